// Drag one blade onto another, or onto the tried set, with a pointer of any kind: it only looks, nothing is written.
// Without this everything is done by the two boxes of the form, and by the links in the table.
"use strict";
(function () {
  const MOST = 4, FAR = 6; // blades in a set; pixels before a touch is a drag
  let held = null, from = null, onto = null;

  function place(event) {
    const under = document.elementFromPoint(event.clientX, event.clientY);
    const found = under && under.closest("[data-serial], [data-with], .pair");
    return found && found !== held ? found : null;
  }
  function serials(target) {
    if (target.dataset.serial) return [target.dataset.serial];
    if (target.dataset.with) return target.dataset.with.split("|");
    return new URL(target.querySelector("a").href).searchParams.getAll("try");
  }
  function mark(target) {
    if (onto) onto.classList.remove("onto");
    onto = target;
    if (onto) onto.classList.add("onto");
  }
  function let_go() {
    if (held) { held.classList.remove("held"); held.style.transform = ""; }
    mark(null);
    held = from = null;
  }
  document.addEventListener("pointerdown", function (event) {
    const chip = event.target.closest(".chip[data-serial]");
    if (!chip || event.button) return;
    held = chip;
    from = { x: event.clientX, y: event.clientY };
    event.preventDefault();
  });
  document.addEventListener("pointermove", function (event) {
    if (!held) return;
    const x = event.clientX - from.x, y = event.clientY - from.y;
    if (!held.classList.contains("held") && Math.hypot(x, y) < FAR) return;
    held.classList.add("held");
    held.style.transform = "translate(" + x + "px," + y + "px)";
    mark(place(event));
  });
  document.addEventListener("pointerup", function (event) {
    if (!held) return;
    const target = held.classList.contains("held") ? place(event) : null;
    const wanted = target ? [...new Set([...serials(target), held.dataset.serial])] : [];
    let_go();
    if (wanted.length < 2 || wanted.length > MOST) return;
    const asked = new URLSearchParams(location.search);
    asked.delete("try");
    for (const serial of wanted) asked.append("try", serial);
    location.assign(location.pathname + "?" + asked + "#tried");
  });
  document.addEventListener("pointercancel", let_go);
  document.addEventListener("keydown", (event) => { if (event.key === "Escape") let_go(); });
})();
