// Drawing outlines on a photograph, by pointer or by keys. The typed entries stay the truth: this only writes them.
"use strict";
(function () {
  const SVG = "http://www.w3.org/2000/svg", NEAR = 10, REACH = 5; // [screen px] a corner lands on another; a handle's radius

  function begin(main) {
    const canvas = main.querySelector("#canvas"), form = main.querySelector("#outlines");
    if (!canvas || !form) return;
    const drawing = canvas.querySelector("#drawing"), said = main.querySelector("#said");
    const size = canvas.viewBox.baseVal, whole = { width: size.width, height: size.height };
    const entry = { whole: form.elements.outline, mark: form.elements.marks, area: form.elements.areas };
    let shapes = [], open = [], tool = "whole", cross = { x: whole.width / 2, y: whole.height / 2 }, keys = false, held = null;

    // --- between the entries and the shapes -----------------------------------------------------------------
    const corner = (word) => { const at = word.split(",").map(Number); return at.length === 2 && at.every(Number.isFinite) ? at : null; };
    const corners = (text) => text.trim().split(/[\s;]+/).map(corner).filter(Boolean);
    function read() {
      shapes = [];
      if (entry.whole.value.trim()) shapes.push({ kind: "whole", corners: corners(entry.whole.value) });
      for (const [kind, box] of [["mark", entry.mark], ["area", entry.area]])
        for (const line of box.value.split("\n")) {
          const at = line.indexOf(":");
          if (at > 0) shapes.push({ kind: kind === "mark" ? "mark" : line.slice(0, at).trim(), length: line.slice(0, at), corners: corners(line.slice(at + 1)) });
        }
    }
    const told = (ring) => ring.map(([x, y]) => x.toFixed(1).replace(/\.0$/, "") + "," + y.toFixed(1).replace(/\.0$/, "")).join(" ");
    function write() {
      const of = (kind) => shapes.filter((shape) => shape.kind === kind);
      entry.whole.value = of("whole").map((shape) => told(shape.corners)).join(" ");
      entry.mark.value = of("mark").map((shape) => shape.length + ": " + told(shape.corners)).join("\n");
      entry.area.value = shapes.filter((shape) => shape.kind !== "whole" && shape.kind !== "mark").map((shape) => shape.kind + ": " + told(shape.corners)).join("\n");
      form.dispatchEvent(new Event("input", { bubbles: true }));
    }

    // --- drawing -----------------------------------------------------------------------------------------------
    const scale = () => canvas.getScreenCTM().a || 1;
    function put(name, attributes, into) {
      const made = document.createElementNS(SVG, name);
      for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
      into.append(made);
      return made;
    }
    function draw() {
      drawing.replaceChildren();
      for (const shape of shapes) {
        const points = told(shape.corners);
        if (shape.kind === "mark") put("polyline", { class: "known open", points: points }, drawing);
        else put("polygon", { class: shape.kind === "whole" ? "whole" : "mode " + shape.kind, points: points }, drawing);
      }
      if (open.length) put("polyline", { class: "open", points: told(open) }, drawing);
      for (const ring of [...shapes.map((shape) => shape.corners), open])
        for (const at of ring) { const handle = put("circle", { class: "handle", cx: at[0], cy: at[1], r: REACH / scale() }, drawing); handle.at = at; }
      if (keys) {
        const arm = 12 / scale();
        put("line", { class: "cross", x1: cross.x - arm, x2: cross.x + arm, y1: cross.y, y2: cross.y }, drawing);
        put("line", { class: "cross", x1: cross.x, x2: cross.x, y1: cross.y - arm, y2: cross.y + arm }, drawing);
      }
    }
    function say(words) { said.textContent = words; }

    // --- corners -------------------------------------------------------------------------------------------------
    function inside(x, y) { return [Math.min(whole.width, Math.max(0, Math.round(10 * x) / 10)), Math.min(whole.height, Math.max(0, Math.round(10 * y) / 10))]; }
    function settled(x, y, not) {
      const near = NEAR / scale();
      let best = null, least = near;
      for (const ring of [...shapes.map((shape) => shape.corners), open])
        for (const at of ring) { const away = Math.hypot(at[0] - x, at[1] - y); if (at !== not && away < least) { least = away; best = [at[0], at[1]]; } }
      if (best) return best;
      const edge = shapes.find((shape) => shape.kind === "whole");
      if (edge && tool !== "whole") {
        edge.corners.forEach(function (from, place) {
          const to = edge.corners[(place + 1) % edge.corners.length], along = [to[0] - from[0], to[1] - from[1]];
          const part = Math.min(1, Math.max(0, ((x - from[0]) * along[0] + (y - from[1]) * along[1]) / (along[0] ** 2 + along[1] ** 2 || 1)));
          const on = [from[0] + part * along[0], from[1] + part * along[1]], away = Math.hypot(on[0] - x, on[1] - y);
          if (away < least) { least = away; best = on; }
        });
      }
      return best ? inside(...best) : inside(x, y);
    }
    function place(x, y) {
      const at = settled(x, y, null);
      if (open.length >= 3 && at[0] === open[0][0] && at[1] === open[0][1]) return close();
      open.push(at);
      say("Corner " + open.length + " at " + at.join(", "));
      if (tool === "mark" && open.length === 2) return close();
      draw();
    }
    function close() {
      if (open.length < (tool === "mark" ? 2 : 3)) return say("An outline has three corners at least.");
      if (tool === "whole") shapes = shapes.filter((shape) => shape.kind !== "whole");
      shapes.push({ kind: tool, length: form.dataset.width, corners: open });
      open = [];
      const done = tool;
      write();
      if (tool === "whole") choose("mark");
      draw();
      say((done === "whole" ? "The whole face" : done === "mark" ? "A known length of " + form.dataset.width : done) + " is outlined.");
    }
    function back() { if (open.length) { open.pop(); draw(); say(open.length + " corners left."); } else remove(); }
    function remove() { const gone = shapes.pop(); if (gone) { write(); draw(); say("Removed: " + gone.kind + "."); } }
    function closer(by) {
      const sides = canvas.clientWidth / canvas.clientHeight, wide = Math.min(whole.width, size.width * by), high = Math.min(whole.height, wide / sides);
      const left = Math.min(whole.width - wide, Math.max(0, cross.x - wide / 2)), top = Math.min(whole.height - high, Math.max(0, cross.y - high / 2));
      canvas.setAttribute("viewBox", [left, top, wide, high].join(" "));
      draw();
    }
    function choose(next) {
      tool = next; open = [];
      for (const button of main.querySelectorAll("[data-tool]")) button.setAttribute("aria-pressed", String(button.dataset.tool === next));
      draw();
    }

    // --- hands and keys ------------------------------------------------------------------------------------------
    function where(event) { return new DOMPoint(event.clientX, event.clientY).matrixTransform(canvas.getScreenCTM().inverse()); }
    canvas.addEventListener("pointerdown", function (event) {
      if (event.button) return;
      const at = where(event);
      cross = { x: at.x, y: at.y };
      if (event.target.at && !open.length) {
        const [x, y] = event.target.at;
        held = shapes.flatMap((shape) => shape.corners).filter((one) => one[0] === x && one[1] === y);
        canvas.setPointerCapture(event.pointerId);
      }
    });
    canvas.addEventListener("pointermove", function (event) {
      if (!held) return;
      const at = where(event), to = inside(at.x, at.y);
      for (const one of held) { one[0] = to[0]; one[1] = to[1]; }
      held.moved = true;
      draw();
    });
    canvas.addEventListener("pointerup", function (event) {
      if (event.button) return;
      const at = where(event), moved = held && held.moved;
      held = null;
      if (moved) return write();
      place(at.x, at.y);
    });
    canvas.addEventListener("keydown", function (event) {
      const step = (event.shiftKey ? 10 : 1), way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
      if (way) { const to = inside(cross.x + step * way[0], cross.y + step * way[1]); cross = { x: to[0], y: to[1] }; keys = true; draw(); say(to.join(", ")); }
      else if (event.key === " ") { keys = true; place(cross.x, cross.y); }
      else if (event.key === "Enter") close();
      else if (event.key === "Backspace") back();
      else return;
      event.preventDefault();
      event.stopPropagation(); // quick keys are no scanner here
    });
    for (const button of main.querySelectorAll("[data-tool]")) button.addEventListener("click", () => choose(button.dataset.tool));
    const does = { close: close, back: back, remove: remove, closer: () => closer(0.5), farther: () => closer(2) };
    for (const button of main.querySelectorAll("[data-do]")) button.addEventListener("click", () => does[button.dataset.do]());
    for (const box of Object.values(entry)) box.addEventListener("input", function (event) { if (event.isTrusted) { read(); draw(); } });

    read();
    choose(shapes.some((shape) => shape.kind === "whole") ? (shapes.some((shape) => shape.kind === "mark") ? "AF" : "mark") : "whole");
  }

  begin(document);
  document.addEventListener("desk:fresh", (event) => begin(event.detail));
})();
