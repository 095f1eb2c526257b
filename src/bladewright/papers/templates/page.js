// Draws every figure of the page from its data; nothing is fetched and nothing is worked out here.
"use strict";
for (const [name, figure] of Object.entries(window.bladewrightFigures)) {
  const place = document.getElementById(name);
  if (place) {
    Plotly.newPlot(place, figure.data, figure.layout, { responsive: true, displaylogo: false, displayModeBar: false });
  }
}
