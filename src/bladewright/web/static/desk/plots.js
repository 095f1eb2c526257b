// Draws every chart of a page from the address it names; the figure is data, the page holds no script.
"use strict";
(function () {
  const seen = new WeakSet();
  async function draw(place) {
    if (seen.has(place)) return;
    seen.add(place);
    try {
      const answer = await fetch(place.dataset.chart, { credentials: "same-origin" });
      if (!answer.ok) throw new Error(String(answer.status));
      const figure = await answer.json();
      place.replaceChildren();
      await Plotly.newPlot(place, figure.data, { autosize: true, ...figure.layout }, { responsive: true, displaylogo: false, displayModeBar: false });
      place.dispatchEvent(new CustomEvent("desk:drawn", { bubbles: true }));
    } catch (error) {
      seen.delete(place);
      const said = document.createElement("p");
      said.textContent = "This picture could not be drawn; the figures stand in the page. Load the page again to try once more.";
      place.replaceChildren(said);
    }
  }
  function drawAll(part) { part.querySelectorAll("[data-chart]").forEach(draw); }
  drawAll(document);
  document.addEventListener("htmx:load", (event) => drawAll(event.detail.elt.parentElement || event.detail.elt)); // also where a part took another's place
  document.addEventListener("desk:fresh", (event) => drawAll(event.detail));
  window.addEventListener("beforeprint", () => document.querySelectorAll(".js-plotly-plot").forEach((place) => Plotly.Plots.resize(place)));
})();
