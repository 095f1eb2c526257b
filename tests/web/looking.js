// What a test asks of a page as it stands in the browser.
({
  tooWide: () => document.documentElement.scrollWidth - document.documentElement.clientWidth,

  tooSmall: () =>
    [...document.querySelectorAll("button, select, summary, nav a, .button, .lines > li > a, input:not([type=hidden])")]
      .filter((one) => one.checkVisibility() && !["checkbox", "radio", "range"].includes(one.type))
      .filter((one) => one.getBoundingClientRect().height < 43.5)
      .map((one) => one.outerHTML.slice(0, 120)),

  toReach: () => {
    const kinds = "a[href], button:not([disabled]), input:not([type=hidden]):not([disabled]), select, textarea, summary, [tabindex='0']";
    const groups = new Set();
    let count = 0;
    for (const one of document.querySelectorAll(kinds)) {
      if (!one.checkVisibility() || one.tabIndex < 0) continue;
      if (one.type === "radio") {
        if (groups.has(one.name)) continue;
        groups.add(one.name);
      }
      one.dataset.wanted = count++;
    }
    return count;
  },

  where: () => {
    let one = document.activeElement;
    const seen = getComputedStyle(one);
    const ring = seen.outlineStyle !== "none" && parseFloat(seen.outlineWidth) > 0;
    if (one.type === "radio") one = document.querySelector(`input[name="${one.name}"][data-wanted]`) || one;
    return [one.dataset.wanted ?? null, ring, one.outerHTML.slice(0, 120)];
  },

  sendAs: async (where, told) => {
    const data = new FormData(document.querySelector(`form[action="${where}"]`));
    for (const [name, value] of Object.entries(told)) data.set(name, value);
    const answer = await fetch(where, { method: "POST", body: data });
    return [answer.status, await answer.text()];
  },

  onPaper: () => [...document.querySelectorAll("button, nav, form.entry")].filter((one) => one.checkVisibility()).length,
})
