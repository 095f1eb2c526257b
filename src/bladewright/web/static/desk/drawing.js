// Sliders beside the entries: they write the entry with its unit; the page then asks for the answers.
"use strict";
(function () {
  const form = document.getElementById("try");
  if (!form) return;
  const typed = (slider) => document.getElementById(slider.dataset.for);
  function follow(slider) {
    const entry = typed(slider), match = /^\s*([+-]?[\d.]+)\s*(.*)$/.exec(entry.value);
    if (match && match[2].trim() === slider.dataset.unit) slider.value = match[1];
  }
  for (const slider of form.querySelectorAll("input[type=range]")) {
    follow(slider);
    slider.addEventListener("input", function (event) {
      event.stopPropagation();
      typed(slider).value = String(Number(slider.value)) + " " + slider.dataset.unit;
      form.dispatchEvent(new CustomEvent("slid"));
    });
    slider.addEventListener("change", (event) => event.stopPropagation());
    typed(slider).addEventListener("change", () => follow(slider));
  }
})();
