// What JavaScript adds to the desk; without it everything can still be entered and signed.
// Scanner: letters that arrive faster than a hand types go to the box at the top.
// Entries: a dropped connection keeps them on this device, with the form's own token, so that they are entered once.
"use strict";
(function () {
  const root = document.documentElement;
  root.classList.add("scripted");
  const line = document.getElementById("line");
  const person = document.body.dataset.person;
  const NEVER_KEPT = ["secret", "secret_again", "csrfmiddlewaretoken"];

  // --- the scanner -------------------------------------------------------------------------------------------
  let burst = "", last = 0;
  document.addEventListener("keydown", function (event) {
    const into = event.target, box = document.getElementById("find");
    if (!box || event.ctrlKey || event.metaKey || event.altKey) return;
    if (into instanceof HTMLInputElement || into instanceof HTMLTextAreaElement || into instanceof HTMLSelectElement) return;
    const time = performance.now();
    if (time - last > 150) burst = "";
    last = time;
    if (event.key === "Enter" && burst.length >= 3) {
      event.preventDefault();
      box.value = burst;
      burst = "";
      box.form.requestSubmit();
    } else if (event.key.length === 1) burst += event.key;
  });

  // --- what is typed stays on this device until it is sent -----------------------------------------------------
  function draftName(form) { return "typed " + person + " " + form.getAttribute("action"); }
  function keepTyped(form) {
    const typed = {};
    for (const entry of form.elements) {
      if (!entry.name || entry.type === "hidden" || entry.type === "file" || entry.type === "password" || NEVER_KEPT.includes(entry.name)) continue;
      if (entry.type === "checkbox" || entry.type === "radio") { if (entry.checked) (typed[entry.name] ||= []).push(entry.value); }
      else typed[entry.name] = entry.value;
    }
    try { sessionStorage.setItem(draftName(form), JSON.stringify(typed)); } catch { /* a full device keeps nothing more */ }
  }
  function giveBack(form) {
    const told = sessionStorage.getItem(draftName(form));
    if (!told || form.querySelector(".has-error")) return;
    const typed = JSON.parse(told);
    let given = false;
    for (const entry of form.elements) {
      if (!(entry.name in typed)) continue;
      if (entry.type === "checkbox" || entry.type === "radio") entry.checked = typed[entry.name].includes(entry.value);
      else if (entry.type !== "hidden" && entry.value !== typed[entry.name]) { entry.value = typed[entry.name]; given = true; }
    }
    if (given) {
      const said = document.createElement("p");
      said.className = "help";
      said.textContent = "What you had typed here before is back; it has not been entered.";
      form.prepend(said);
    }
  }

  // --- entries that could not be sent ----------------------------------------------------------------------------
  function store() {
    return new Promise(function (resolve, reject) {
      const asked = indexedDB.open("entries", 1);
      asked.onupgradeneeded = function () { asked.result.createObjectStore("waiting", { keyPath: "once" }); };
      asked.onsuccess = function () { resolve(asked.result); };
      asked.onerror = function () { reject(asked.error); };
    });
  }
  async function inStore(mode, work) {
    const db = await store();
    return new Promise(function (resolve, reject) {
      const change = db.transaction("waiting", mode), asked = work(change.objectStore("waiting"));
      change.oncomplete = function () { resolve(asked.result); db.close(); };
      change.onerror = function () { reject(change.error); db.close(); };
    });
  }
  const waitingEntries = () => inStore("readonly", (kept) => kept.getAll());
  const keepEntry = (entry) => inStore("readwrite", (kept) => kept.put(entry));
  const dropEntry = (once) => inStore("readwrite", (kept) => kept.delete(once));

  function csrf() {
    const held = document.querySelector("input[name=csrfmiddlewaretoken]");
    return held ? held.value : "";
  }
  async function send(entry) {
    const data = new FormData();
    for (const [name, value] of entry.fields) data.append(name, value);
    data.set("csrfmiddlewaretoken", csrf());
    return fetch(entry.action, { method: "POST", body: data, redirect: "follow", credentials: "same-origin" });
  }

  async function show() {
    let waiting = [];
    try { waiting = (await waitingEntries()).filter((entry) => entry.person === person); } catch { /* no store on this device */ }
    const off = !navigator.onLine || show.unreachable;
    line.hidden = !off && !waiting.length;
    line.replaceChildren();
    if (off) {
      const said = document.createElement("p");
      said.textContent = "The desk cannot be reached. What you enter is kept on this device and entered once it can; signing has to wait.";
      line.append(said);
    }
    for (const button of document.querySelectorAll("form[data-signed] button")) button.disabled = off;
    for (const entry of waiting) {
      const row = document.createElement("p");
      row.append(entry.words + " (typed " + new Date(entry.at).toLocaleTimeString() + "): not in the book yet. ");
      const now = document.createElement("button"), never = document.createElement("button");
      now.textContent = "Send it now";
      now.addEventListener("click", () => sendKept(entry));
      never.textContent = "Throw it away";
      never.className = "quiet";
      never.addEventListener("click", async function () {
        if (confirm("Throw away what was typed? It is not in the book.")) { await dropEntry(entry.once); show(); }
      });
      row.append(now, never);
      line.append(row);
    }
  }

  async function sendKept(entry) {
    let answer;
    try { answer = await send(entry); } catch { show.unreachable = true; return show(); }
    show.unreachable = false;
    if (answer.ok) { await dropEntry(entry.once); await goOn(answer); }
    else if (answer.status === 401) location.assign("/enter/?back=" + encodeURIComponent(location.pathname));
    else { await dropEntry(entry.once); await put(answer); }
  }

  // The page that follows was fetched, and what it said of the act with it: that is carried to the page as it opens.
  async function goOn(answer) {
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    const said = [...page.querySelectorAll("main > .said[role=status]")].map((one) => [one.className, one.textContent]);
    try { sessionStorage.setItem("said", JSON.stringify(said)); } catch { /* then it is not said twice */ }
    location.assign(answer.url);
    if (new URL(answer.url).pathname === location.pathname) location.reload();
  }
  function sayOn() {
    const said = JSON.parse(sessionStorage.getItem("said") || "[]");
    sessionStorage.removeItem("said");
    for (const [kind, words] of said.reverse()) {
      const line = document.createElement("p");
      line.className = kind;
      line.setAttribute("role", "status");
      line.textContent = words;
      document.getElementById("main").prepend(line);
    }
  }

  async function put(answer) {
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    const fresh = page.getElementById("main");
    if (!fresh) return location.assign(answer.url);
    document.getElementById("main").replaceWith(document.adoptNode(fresh));
    const wrong = document.querySelector("#main .has-error input, #main .has-error select, #main .has-error textarea") || document.getElementById("main");
    wrong.focus();
    document.dispatchEvent(new CustomEvent("desk:fresh", { detail: document.getElementById("main") }));
    prepare(document.getElementById("main"));
    if (window.htmx) window.htmx.process(document.getElementById("main"));
  }

  async function onSubmit(event) {
    const form = event.target, button = event.submitter;
    if (form.method !== "post" || !form.matches("[data-keep], [data-signed]") || event.defaultPrevented) return;
    event.preventDefault();
    const data = new FormData(form, button);
    const fields = [...data.entries()].filter(([name]) => name !== "csrfmiddlewaretoken");
    const once = data.get("once");
    const entry = { once: once, person: person, action: form.action, at: Date.now(), fields: fields, words: document.title.split(" · ")[0] };
    for (const one of form.querySelectorAll("button")) one.disabled = true;
    let answer;
    try { answer = await send(entry); } catch { answer = null; }
    for (const one of form.querySelectorAll("button")) one.disabled = false;
    if (!answer) {
      show.unreachable = true;
      if (form.matches("[data-keep]") && once) { await keepEntry(entry); sessionStorage.removeItem(draftName(form)); form.reset(); }
      return show();
    }
    show.unreachable = false;
    if (answer.ok) { sessionStorage.removeItem(draftName(form)); await goOn(answer); }
    else await put(answer);
  }

  // --- dropping files --------------------------------------------------------------------------------------------
  function dropPlace(place) {
    const into = place.querySelector("input[type=file]");
    if (!into) return;
    for (const kind of ["dragenter", "dragover"]) place.addEventListener(kind, function (event) { event.preventDefault(); place.classList.add("over"); });
    for (const kind of ["dragleave", "drop"]) place.addEventListener(kind, function () { place.classList.remove("over"); });
    place.addEventListener("drop", function (event) {
      event.preventDefault();
      into.files = event.dataTransfer.files;
      into.dispatchEvent(new Event("change", { bubbles: true }));
    });
  }

  function prepare(part) {
    for (const form of part.querySelectorAll("form[data-keep], form[data-signed]")) {
      giveBack(form);
      form.addEventListener("input", () => keepTyped(form));
    }
    part.querySelectorAll(".drop").forEach(dropPlace);
  }

  document.addEventListener("submit", onSubmit);
  window.addEventListener("online", async function () { show.unreachable = false; await show(); for (const entry of await waitingEntries()) if (entry.person === person) { await sendKept(entry); break; } });
  window.addEventListener("offline", show);
  prepare(document);
  sayOn();
  show();
})();
