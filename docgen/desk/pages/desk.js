"use strict";
// Without this script each question has its own button; with it an answer is saved when it is left.
const state = document.getElementById("state");
const saving = new Set();
const MANY = 20; // choices that a person looks through without searching

// on a wide screen the list of screens stands open
for (const screens of document.querySelectorAll("details.screens")) screens.open ||= innerWidth >= 1024;

for (const form of document.querySelectorAll("form.question[action$='/answer']")) {
  form.querySelector("button").classList.add("quiet");
  form.addEventListener("change", (event) => {
    if (!event.target.name) return; // a search among choices is no answer
    const saved = save(form);
    saving.add(saved);
    saved.finally(() => saving.delete(saved));
  });
}

// the desk is closed once what is being saved is saved
document.querySelector("form[action='/close']")?.addEventListener("submit", async (event) => {
  if (!saving.size) return;
  event.preventDefault();
  await Promise.allSettled(saving);
  if (!state?.textContent.startsWith("Not saved")) event.target.submit();
});

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
  search.addEventListener("keydown", (event) => { if (event.key === "Enter") event.preventDefault(); });
  return label;
}

async function save(form) {
  if (state) state.textContent = "Saving ...";
  const sent = new FormData(form);
  const body = form.enctype === "multipart/form-data" ? sent : new URLSearchParams(sent);
  let answer;
  try {
    answer = await fetch(form.action, { method: "POST", body });
  } catch {
    if (state) state.textContent = "Not saved: the desk is closed. Start it again, then answer once more.";
    return;
  }
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  const id = form.elements.path.value;
  const fresh = [...page.querySelectorAll("form.question input[name=path]")].find((input) => input.value === id);
  if (!fresh) {
    if (state) state.textContent = page.getElementById("trouble")?.textContent || "Not saved. Load the page again.";
    return;
  }
  const held = document.activeElement;
  for (const part of ["[name=was]", ".hint"]) {
    const [old, next] = [form.querySelector(part), fresh.form.querySelector(part)];
    if (part === "[name=was]") old.value = answer.ok ? next.value : old.value;
    else old.textContent = next.textContent;
  }
  form.querySelector(".trouble")?.remove();
  const trouble = fresh.form.querySelector(".trouble");
  if (trouble) form.querySelector(".hint").before(trouble);
  const aside = document.getElementById("missing");
  const open = [...aside.querySelectorAll("details[open] > summary")].map((summary) => summary.textContent.split(" (")[0]);
  aside.replaceChildren(...page.getElementById("missing").childNodes);
  for (const details of aside.querySelectorAll("details")) {
    details.open = open.includes(details.querySelector("summary").textContent.split(" (")[0]);
  }
  if (held && held.isConnected) held.focus();
  if (state) state.textContent = answer.ok ? "Saved." : "Not saved: see the question.";
  if (answer.ok) printAnew();
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
  if (state && n) state.textContent = "Saved. " + (n === 1 ? "1 sentence of the page is new." : n + " sentences of the page are new.");
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

// the caseload: each case is looked at in turn, and found by its name
(async () => {
  for (const row of document.querySelectorAll("li[data-look]")) {
    const answer = await fetch(row.dataset.look).catch(() => null);
    if (!answer || !answer.ok) continue;
    const fresh = new DOMParser().parseFromString(await answer.text(), "text/html").querySelector("li");
    // its link stays: somebody may be about to press it
    row.querySelector("a").textContent = fresh.querySelector("a").textContent;
    for (const old of row.querySelectorAll("p, h2 .hint")) old.remove();
    row.querySelector("h2").append(...fresh.querySelectorAll("h2 .hint"));
    row.append(...fresh.querySelectorAll("p"));
    row.dataset.case = fresh.dataset.case;
  }
})();
document.getElementById("search")?.addEventListener("input", (event) => {
  const wanted = event.target.value.trim().toLowerCase();
  const rows = [...document.querySelectorAll("li[data-case]")];
  for (const row of rows) row.hidden = !row.dataset.case.toLowerCase().includes(wanted);
  document.getElementById("found").textContent = rows.filter((row) => !row.hidden).length + " shown";
});

const progress = document.getElementById("progress");

// the last screen: what has changed on it since it was loaded
async function refresh(parts) {
  const answer = await fetch(progress.dataset.screen).catch(() => null);
  if (!answer || !answer.ok) return;
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  for (const part of parts) {
    const [old, fresh] = [document.querySelector(part), page.querySelector(part)];
    if (old && fresh && old.innerHTML !== fresh.innerHTML) old.replaceChildren(...fresh.childNodes);
    else if (!old && fresh) document.querySelector("main").append(fresh);
  }
}

// a packet in the making: how far it is, until it is done
(async () => {
  let shown = "";
  if (progress?.querySelector("[data-at-work]")) state.textContent = "The packet is being built.";
  while (progress && progress.querySelector("[data-at-work]")) {
    await new Promise((done) => setTimeout(done, 700));
    const answer = await fetch(progress.dataset.progress).catch(() => null);
    if (!answer || !answer.ok) return;
    const text = await answer.text();
    if (text === shown) continue;
    const held = progress.contains(document.activeElement);
    progress.innerHTML = shown = text;
    if (held) (progress.querySelector("a") || progress).focus();
    if (!progress.querySelector("[data-at-work]")) {
      state.textContent = progress.querySelector("b").textContent;
      refresh(["#send"]);
    }
  }
})();

// back from a document: which were opened
if (document.getElementById("read")) {
  addEventListener("focus", () => refresh(["#reading", "#read .papers", "#approve > p"]));
}

// what is behind a sentence, once it is shown beside the page
document.querySelector("iframe[name=behind]")?.addEventListener("load", (event) => {
  const head = event.target.contentDocument?.querySelector("h1");
  if (state && head) state.textContent = head.textContent + ": shown beside the page.";
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
