// What JavaScript adds to the oven's pages: from a finding to its place on the chart and back; a live chart; and a loud
// word when what is seen is old, because no answer came or because the session ended.
"use strict";
(function () {
  const chart = document.querySelector(".log .plot");
  const whole = document.querySelector("[data-whole]");
  const AROUND = 10; // minutes beside a place

  function show(number) {
    const finding = document.querySelector('[data-finding="' + number + '"]');
    if (!finding || !chart || !chart.layout || !finding.dataset.from) return false;
    const first = Number(finding.dataset.from), last = Number(finding.dataset.until || finding.dataset.from);
    Plotly.relayout(chart, { "xaxis.range": [first - AROUND, last + AROUND], "yaxis.autorange": true });
    mark(finding);
    if (whole) whole.hidden = false;
    return true;
  }
  function mark(finding) {
    const folded = finding.closest("details");
    if (folded) folded.open = true;
    document.querySelectorAll(".findings .shown").forEach((one) => one.classList.remove("shown"));
    finding.classList.add("shown");
  }

  document.addEventListener("click", function (event) {
    const place = event.target.closest("[data-show]");
    if (place && show(place.dataset.show)) {
      event.preventDefault();
      document.getElementById("chart").focus({ preventScroll: true });
      document.getElementById("chart").scrollIntoView({ block: "nearest" });
      back = place;
    }
    if (event.target.closest("[data-whole]") && chart && chart.layout) {
      event.preventDefault();
      Plotly.relayout(chart, { "xaxis.autorange": true, "yaxis.autorange": true });
      whole.hidden = true;
      if (back) back.focus();
    }
  });
  let back = null;
  document.addEventListener("keydown", function (event) {
    if (event.key === "Escape" && back) { back.focus(); back.scrollIntoView({ block: "nearest" }); }
  });
  document.addEventListener("desk:drawn", function () {
    if (!chart || !chart.on) return;
    chart.on("plotly_click", function (what) {
      const number = what.points.map((point) => point.customdata).find((one) => one !== undefined);
      const finding = number === undefined ? null : document.querySelector('[data-finding="' + number + '"]');
      if (!finding) return;
      mark(finding);
      finding.focus({ preventScroll: true });
      finding.scrollIntoView({ block: "nearest" });
    });
  });

  async function again() {
    const answer = await fetch(chart.dataset.chart, { credentials: "same-origin" });
    if (!answer.ok) return;
    const figure = await answer.json();
    Plotly.react(chart, figure.data, { autosize: true, uirevision: "same", ...figure.layout }, { responsive: true, displaylogo: false, displayModeBar: false });
  }
  // the plan came: draw it behind the log
  document.addEventListener("htmx:afterSwap", function (event) {
    const plan = document.getElementById("plan");
    if (plan && !plan.hasAttribute("hx-get") && event.detail.target.id === "plan" && chart && chart.layout) again();
  });

  // --- the live page -------------------------------------------------------------------------------------------
  const now = document.getElementById("now"), stale = document.getElementById("stale");
  if (!now) return;
  let rows = rowsNow(), seen = new Date();
  function rowsNow() { const held = now.querySelector("[data-rows]"); return held ? held.dataset.rows : "0"; }
  function old(words) { stale.hidden = false; stale.textContent = words + " What you see is of " + seen.toLocaleTimeString() + "."; }
  document.addEventListener("htmx:afterSwap", async function (event) {
    if (event.detail.target !== now) return;
    seen = new Date();
    stale.hidden = true;
    if (rowsNow() === rows || !chart || !chart.layout) return;
    rows = rowsNow();
    try { await again(); } catch { old("The chart could not be drawn anew."); }
  });
  document.addEventListener("htmx:sendError", () => old("The desk cannot be reached: nobody is watching the oven through this page now."));
  document.addEventListener("htmx:responseError", function (event) {
    old(event.detail.xhr.status === 401 ? "You are no longer signed in. Open the page again and sign in to go on watching." : "The desk could not answer.");
  });
})();
