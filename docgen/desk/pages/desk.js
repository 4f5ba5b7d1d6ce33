"use strict";
// Without this script each question has its own button; with it an answer is saved when it is left.
const state = document.getElementById("state");
sessionStorage.clear(); // htmx keeps the address of the page there, which nothing here asks for
const MANY = 20; // choices that a person looks through without searching

// on a wide screen the list of screens stands open
for (const screens of document.querySelectorAll("details.screens")) screens.open ||= innerWidth >= 1024;

for (const button of document.querySelectorAll("form[hx-post$='/answer'] > button")) button.classList.add("quiet");

const tell = (words) => { if (state) state.textContent = words; };
const isAnswer = (event) => event.target.matches("form[hx-post$='/answer']");
addEventListener("htmx:beforeRequest", (event) => { if (isAnswer(event)) tell("Saving ..."); });
// an answer to a case that cannot be shown, since its file was changed elsewhere, leaves the screen as it is
addEventListener("htmx:beforeSwap", (event) => {
  if (event.target.id.startsWith("said-") && !event.detail.serverResponse.includes('id="missing"')) event.detail.shouldSwap = false;
});
addEventListener("htmx:afterRequest", (event) => {
  if (!isAnswer(event)) return;
  if (!event.detail.xhr.status) tell("Not saved: the desk is closed. Start it again, then answer once more.");
  else if (state?.textContent === "Saving ...") tell("Not saved. Load the page again.");
  else if (event.detail.successful) printAnew();
  setTimeout(closeOnceSaved);
});
// what is swapped keeps what was opened in it, and stays where it has not changed
addEventListener("htmx:oobBeforeSwap", (event) => {
  const { target, fragment } = event.detail;
  const named = (details) => details.querySelector("summary").textContent.split(" (")[0];
  const open = [...target.querySelectorAll("details[open]")].map(named);
  if (target.id === "missing") for (const details of fragment.querySelectorAll("details")) details.open = open.includes(named(details));
  else if (fragment.innerHTML === target.innerHTML) event.detail.shouldSwap = false;
});

// the desk is closed once what is being saved is saved
let closing = null;
document.querySelector("form[action='/close']")?.addEventListener("submit", (event) => {
  if (!document.querySelector("main form.htmx-request")) return;
  event.preventDefault();
  closing = event.target;
});
function closeOnceSaved() {
  if (document.querySelector("main form.htmx-request")) return;
  if (closing && !state?.textContent.startsWith("Not saved")) closing.submit();
  closing = null;
}

// a long list of choices is looked through by any word of them
for (const others of document.querySelectorAll("details.others")) {
  const found = Object.assign(document.createElement("span"), { className: "hint" });
  found.setAttribute("role", "status");
  others.querySelector("summary").after(searchAmong([...others.querySelectorAll(".tick")], found), found);
}
for (const select of document.querySelectorAll("select")) {
  if (select.options.length <= MANY) continue;
  const found = Object.assign(document.createElement("span"), { className: "hint" });
  found.setAttribute("role", "status");
  const options = [...select.options];
  const search = searchAmong(options, found, () => select.replaceChildren(...options.filter((option) => !option.hidden)));
  select.before(search, found);
}
function searchAmong(choices, found, then) {
  const label = Object.assign(document.createElement("label"), { className: "among", textContent: "Find a choice by any word " });
  const search = Object.assign(document.createElement("input"), { type: "search", autocomplete: "off" });
  label.append(search);
  search.addEventListener("input", () => {
    const words = search.value.toLowerCase().split(/\s+/).filter(Boolean);
    for (const choice of choices) {
      const held = choice.selected || choice.querySelector?.("input")?.checked || choice.value === "";
      choice.hidden = !held && !words.every((word) => choice.textContent.toLowerCase().includes(word));
    }
    const n = choices.filter((choice) => !choice.hidden && choice.value !== "").length;
    found.textContent = words.length ? (n === 1 ? "1 fits" : n + " fit") : "";
    then?.();
  });
  search.addEventListener("change", (event) => event.stopPropagation()); // a search among choices is no answer
  search.addEventListener("keydown", (event) => { if (event.key === "Enter") event.preventDefault(); });
  return label;
}

// the page beside the questions, laid out anew while one types on: what is new on it is set off and counted
let asked = 0;
async function printAnew() {
  const frame = document.querySelector("iframe[name=page]");
  const shown = frame?.contentDocument;
  if (!shown?.body || !shown.URL.startsWith("http")) return;
  const turn = ++asked;
  const answer = await fetch(shown.URL.split("#")[0]).catch(() => null);
  if (!answer || !answer.ok || turn !== asked) return;
  const fresh = new DOMParser().parseFromString(await answer.text(), "text/html");
  const marks = (page) => [...page.querySelectorAll("a.from")];
  const known = new Set(marks(shown).map((mark) => mark.id));
  const at = shown.activeElement?.id;
  shown.body.replaceChildren(...fresh.body.childNodes);
  if (document.activeElement === frame) shown.getElementById(at)?.focus();
  const changed = marks(shown).filter((mark) => !known.has(mark.id));
  for (const mark of changed) mark.classList.add("new");
  if (changed.length) frame.contentWindow.scrollTo(0, changed[0].getBoundingClientRect().top + frame.contentWindow.scrollY - 80);
  const n = changed.length;
  if (n) tell("Saved. " + (n === 1 ? "1 sentence of the page is new." : n + " sentences of the page are new."));
}

// a link to a question opens what it stands in, and the question is where the keyboard then is
const ASKS = "input:not([type=hidden]),select,textarea,button,a[href]";
function reveal() {
  const target = location.hash && document.getElementById(decodeURIComponent(location.hash.slice(1)));
  if (!target) return;
  for (let node = target; node; node = node.parentElement) if (node.tagName === "DETAILS") node.open = true;
  target.scrollIntoView();
  const field = target.matches(ASKS) ? target : target.closest("details.entry") && target.querySelector(ASKS);
  if (field) field.focus();
  else if (target.matches("main,aside,section,div")) {
    target.tabIndex = -1;
    target.focus();
  }
}
addEventListener("hashchange", reveal);
reveal();

// the caseload: a case is found by its name or the client's
document.getElementById("search")?.addEventListener("input", (event) => {
  const wanted = event.target.value.trim().toLowerCase();
  const rows = [...document.querySelectorAll(".caseload li")];
  for (const row of rows) row.hidden = ![row, ...row.querySelectorAll("[data-name]")].some((part) => part.dataset.name.toLowerCase().includes(wanted));
  document.getElementById("found").textContent = rows.filter((row) => !row.hidden).length + " shown";
});

// a packet in the making: told once, and whoever waited at it is left there
const progress = document.getElementById("progress");
if (progress?.querySelector("[data-at-work]")) tell("The packet is being built.");
let waits = false;
progress?.addEventListener("htmx:beforeSwap", () => { waits = progress.contains(document.activeElement); });
progress?.addEventListener("htmx:afterSwap", () => { if (waits && !progress.contains(document.activeElement)) progress.focus(); });

// what is behind a sentence, once it is shown beside the page
document.querySelector("iframe[name=behind]")?.addEventListener("load", (event) => {
  const head = event.target.contentDocument?.querySelector("h1");
  if (head) tell(head.textContent + ": shown beside the page.");
});

// a grid of rows: Enter goes down, cells copied from a spreadsheet spread from the cell they are pasted into, and a row
// that is begun has the day, control and task of the one above it to start from
for (const form of document.querySelectorAll("form[data-grid]")) {
  const rows = [...form.querySelectorAll("tbody tr")].map((row) => [...row.querySelectorAll("input, select")]);
  const placeOf = (cell) => {
    const down = rows.findIndex((row) => row.includes(cell));
    return [down, rows[down].indexOf(cell)];
  };
  const put = (cell, text) => {
    const wanted = text.trim();
    if (cell.tagName !== "SELECT") cell.value = wanted;
    else cell.value = ([...cell.options].find((option) => [option.value, option.text].some((word) => word.toLowerCase() === wanted.toLowerCase())) || { value: "" }).value;
    return cell.value !== "" || wanted === "";
  };
  form.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" || !event.target.matches("tbody input")) return;
    event.preventDefault();
    const [down, across] = placeOf(event.target);
    rows[down + 1]?.[across].focus();
  });
  form.addEventListener("paste", (event) => {
    const text = event.clipboardData.getData("text/plain");
    if (!event.target.matches("tbody input, tbody select") || !/[\t\n]/.test(text.trimEnd())) return;
    event.preventDefault();
    const [down, across] = placeOf(event.target);
    const lines = text.replace(/\r/g, "").trimEnd().split("\n");
    let n = 0, lost = 0;
    lines.forEach((line, i) => line.split("\t").forEach((word, j) => {
      const cell = rows[down + i]?.[across + j];
      if (cell && put(cell, word)) n += 1;
      else if (word.trim()) lost += 1;
    }));
    const told = document.getElementById("pasted") || form.insertBefore(Object.assign(document.createElement("p"), { id: "pasted" }), form.querySelector("button"));
    told.setAttribute("role", "status");
    told.textContent = n + " cells are filled in." + (lost ? " " + lost + " could not be: there is no such cell or no such word. Paste them above, where they are asked about." : "");
  });
  form.addEventListener("focusin", (event) => {
    const [down] = event.target.matches("tbody input, tbody select") ? placeOf(event.target) : [0];
    if (down < 1 || rows[down].some((cell) => cell.value)) return;
    rows[down].slice(0, 3).forEach((cell, i) => { cell.value = rows[down - 1][i].value; });
  });
}
