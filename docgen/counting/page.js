"use strict";
// What is counted is kept in the browser's own database, each tap written down to the disk before it counts as kept.
const setup = JSON.parse(document.getElementById("setup").textContent);
const words = setup.words;
const at = (id) => document.getElementById(id);
const OWN = "?";
const MOST_TAKEN_BACK = 60;
const COUNTED = [...new Set([...setup.counted.trial, ...setup.counted.lessons])];
const N_DRAWN = 2; // surprise stops in a row of five tries, as on the lesson card

let state = { visit: null, rows: [], now: null };
const earlier = [];
let clock = null; // a stop that is being timed; a page that is loaded again does not go on with it
let database = null;
let saving = Promise.resolve();

const filled = (pattern, values) => pattern.replace(/\{(\w+)\}/g, (_, name) => String(values[name]));
const plain = (id) => id.replace(/_/g, " ");
// what the person who counts does not watch for stays blank: a zero would say that it never happened
const fresh = () => Object.fromEntries(state.visit.counts.map((name) => [name, 0]));

function opened() {
  return new Promise((resolve, reject) => {
    const request = indexedDB.open("count-" + setup.mark, 1);
    request.onupgradeneeded = () => request.result.createObjectStore("kept");
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
    request.onblocked = () => reject(new Error("blocked"));
  });
}

function put(value, key) {
  return new Promise((resolve, reject) => {
    const change = database.transaction("kept", "readwrite", { durability: "strict" });
    change.objectStore("kept").put(value, key);
    change.oncomplete = () => resolve();
    change.onabort = change.onerror = () => reject(change.error);
  });
}

function got(key) {
  return new Promise((resolve, reject) => {
    const request = database.transaction("kept").objectStore("kept").get(key);
    request.onsuccess = () => resolve(request.result);
    request.onerror = () => reject(request.error);
  });
}

function keep() {
  const text = JSON.stringify(state);
  at("kept").textContent = words.keeping;
  saving = saving.then(() => put(text, "state")).then(
    () => { at("kept").textContent = filled(words.kept, { n: state.rows.length }); },
    () => refuse(words.not_kept),
  );
}

function refuse(text) {
  at("refused").textContent = text;
  at("refused").hidden = false;
  at("kept").textContent = "";
}

function remember() {
  earlier.push(JSON.stringify(state));
  if (earlier.length > MOST_TAKEN_BACK) earlier.shift();
}

function say(text) {
  at("said").textContent = text;
  if (navigator.vibrate) navigator.vibrate(30);
}

// ---- what stands in the lists ---------------------------------------------------------------------

function fill(list, ids, wordOf) {
  list.replaceChildren(...[...ids, OWN].map((id) => new Option(id === OWN ? words.another : wordOf(id), id)));
}

const sheetNow = () => at("sheet").value;
const ofLessons = () => state.visit.sheet === "lessons";

function fillLists() {
  const lessons = sheetNow() === "lessons";
  at("method-label").textContent = lessons ? words.stage : words.method;
  fill(at("method"), lessons ? Object.keys(setup.steps) : setup.methods, plain);
  for (const box of document.querySelectorAll("[data-box]")) box.hidden = !setup.counted[sheetNow()].includes(box.dataset.box);
  fillTasks();
  if (at("planned")) at("planned-line").hidden = lessons;
}

// ---- a planned trial: its blocks are offered, and each leads from card to card ---------------------------

// rows name their block by what it is, so that a plan that has changed since finds none of its own in them
const isPlanned = () => Boolean(at("planned")) && sheetNow() === "trial" && Boolean(at("planned").value);
const nameOf = (block) => [block.visit, block.block, block.method].join(" ");
const blockNamed = (name) => setup.planned.find((block) => nameOf(block) === name);
const driven = (name) => state.rows.filter((row) => row.planned === name).length;
const isOpen = (block) => driven(nameOf(block)) < block.tasks.length;

function fillPlanned() {
  const options = setup.planned.map((block) => new Option(filled(words.planned_block, {
    visit: block.visit, block: block.block, method: plain(block.method) }), nameOf(block)));
  at("planned").replaceChildren(...options, new Option(words.not_planned, ""));
}

// the block that is gone on with, or the first that is left
function offerPlanned() {
  if (!at("planned") || sheetNow() !== "trial") return;
  const chosenBlock = blockNamed(at("planned").value);
  const left = chosenBlock && isOpen(chosenBlock) ? chosenBlock : setup.planned.find(isOpen);
  at("planned").value = left ? nameOf(left) : "";
  takePlanned();
}

function takePlanned() {
  const block = blockNamed(at("planned").value);
  if (!block) return;
  at("method").value = setup.methods.includes(block.method) ? block.method : OWN;
  if (at("method").value === OWN) at("method-own").value = block.method;
  fillTasks();
  at("task").value = block.tasks[Math.min(driven(nameOf(block)), block.tasks.length - 1)];
  ownFields();
}

// what is chosen by hand is none of the plan
function leavePlanned() {
  if (at("planned")) at("planned").value = "";
}

// The next card of the block; true where that was its last.
function nextCard() {
  const block = blockNamed(state.visit.planned);
  if (!block) return false;
  if (isOpen(block)) { state.visit.task = block.tasks[driven(state.visit.planned)]; return false; }
  delete state.visit.planned;
  return true;
}

function fillTasks() {
  const lessons = sheetNow() === "lessons";
  const tasks = lessons ? setup.steps[at("method").value] || [] : setup.tasks;
  fill(at("task"), tasks, plain);
  ownFields();
}

function ownFields() {
  for (const name of ["method", "task"]) {
    const own = at(name).value === OWN;
    at(name + "-other").hidden = !own;
    at(name + "-own").required = own;
  }
}

const chosen = (name) => (at(name).value === OWN ? at(name + "-own").value.trim().toLowerCase().replace(/\s+/g, "_") : at(name).value);

// ---- an attempt --------------------------------------------------------------------------------------

const isStop = (task) => setup.stops[state.visit.sheet].includes(task);
const stopTask = () => {
  const stops = setup.stops[state.visit.sheet];
  if (isStop(state.visit.task)) return state.visit.task;
  // of lessons the last: the stop at a word, for the chair drives
  return ofLessons() ? stops[stops.length - 1] : stops.length === 1 ? stops[0] : "";
};

// Attempts of a trial are counted on through the day, whatever the task: two of one number in a block are refused.
const numberOf = (task) => state.rows.filter((row) => row.sheet === state.visit.sheet && row.date === state.visit.date
  && row.method === state.visit.method && (!ofLessons() || row.task === task)).length + 1;

function orderOf(method) {
  const methods = [];
  for (const row of state.rows) {
    if (row.sheet === "trial" && row.date === state.visit.date && !methods.includes(row.method)) methods.push(row.method);
  }
  return methods.includes(method) ? methods.indexOf(method) + 1 : methods.length + 1;
}

// outcome  "done", "helped" or "not"
function rowOf(task, outcome, counts, timed) {
  const visit = state.visit;
  return {
    sheet: visit.sheet, date: visit.date, method: visit.method, task, success: outcome === "not" ? 0 : 1,
    help: { done: "I", helped: "H" }[outcome], surprise: timed.surprise,
    order: orderOf(visit.method), attempt: numberOf(task), ...counts,
    release_s: timed.release_s, seconds: timed.seconds, worn: visit.worn, seat: visit.seat,
    note: at("note").value.trim(),
  };
}

function end(outcome) {
  remember();
  const row = rowOf(state.visit.task, outcome, state.now, {});
  row.planned = state.visit.planned;
  state.rows.push(row);
  after(row);
}

function endStop(outcome) {
  remember();
  const own = isStop(state.visit.task);
  const row = rowOf(stopTask(), outcome, own ? state.now : {}, clock);
  if (own) row.planned = state.visit.planned; // a stop in the midst of another card is no card
  state.rows.push(row);
  if (own) after(row);
  else { stopClock(); told(row); draw(); keep(); }
}

function after(row) {
  state.now = fresh();
  stopClock();
  told(row);
  if (nextCard()) say(at("said").textContent + " " + words.block_ended);
  draw();
  keep();
}

function told(row) {
  at("note").value = "";
  const [yes, helped, no] = isStop(row.task) ? [words.made, words.made_helped, words.no_stop]
    : [words.done, words.done_helped, words.not_done];
  const alike = state.rows.filter((other) => other.method === row.method && other.task === row.task && other.date === row.date);
  say(filled(words.saved, {
    outcome: !row.success ? no : row.help === "H" ? helped : yes, task: plain(row.task), n: alike.length,
    done: alike.filter((other) => other.success).length,
  }));
}

// ---- the clock of a stop: from the word or the line, to the input off, to the chair standing ------------

// surprise  of a lesson, whether the driver could not tell that it would come: 1 or 0
function startClock(surprise) {
  clock = { from: performance.now(), ticking: setInterval(showClock, 100), surprise };
  showClock();
  draw();
  at("input-off").focus();
}

function timed(name, next) {
  if (!clock) return;
  clock[name] = Math.round((performance.now() - clock.from) / 10) / 100;
  if (name === "seconds") clearInterval(clock.ticking);
  showClock();
  draw();
  at(next).focus();
}

function stopClock() {
  if (clock) clearInterval(clock.ticking);
  clock = null;
  showClock();
}

function showClock() {
  if (!clock) { at("clock").textContent = ""; return; }
  const shown = [];
  if (clock.release_s !== undefined) shown.push(words.input_off + " " + clock.release_s.toFixed(2) + " s");
  shown.push(clock.seconds !== undefined ? words.stands + " " + clock.seconds.toFixed(2) + " s"
    : ((performance.now() - clock.from) / 1000).toFixed(1) + " s");
  at("clock").textContent = shown.join(", ");
}

// ---- what is shown ----------------------------------------------------------------------------------

function draw() {
  const counting = Boolean(state.visit && state.now);
  at("before").hidden = counting;
  at("count").hidden = !counting;
  at("totals").hidden = !counting && !state.rows.length;
  if (counting) drawCount();
  at("totals-text").value = totals();
  at("rows-text").value = Object.keys(files()).map((name) => files()[name]).join("\n");
}

function drawCount() {
  const visit = state.visit;
  const own = isStop(visit.task);
  at("now").textContent = filled(words.now, { method: plain(visit.method), task: plain(visit.task), n: numberOf(visit.task) });
  const hurts = (state.now.contacts || 0) + (state.now.helped || 0) > 0;
  at("rule").textContent = !hurts ? "" : ofLessons() ? words.not_alone : words.not_by_rule;
  drawFive();
  for (const button of document.querySelectorAll("[data-adds]")) {
    const name = button.dataset.adds;
    button.hidden = !(name in state.now);
    button.textContent = words[name] + ": " + state.now[name];
  }
  const running = Boolean(clock);
  at("asked").hidden = running || !stopTask() || ofLessons();
  at("surprise").hidden = at("announced").hidden = running || !ofLessons();
  at("input-off").hidden = !running || clock.release_s !== undefined || clock.seconds !== undefined;
  at("stands").hidden = !running || clock.seconds !== undefined;
  at("made").hidden = at("no-stop").hidden = !running;
  at("made-helped").hidden = !running || !ofLessons();
  at("done").hidden = at("not-done").hidden = own || running;
  at("done-helped").hidden = own || running || !ofLessons();
  at("undo").disabled = !earlier.length;
}

// the first tries of a task each day count towards the next step; which of them carry a surprise stop is drawn before
function drawFive() {
  const visit = state.visit;
  if (!ofLessons() || isStop(visit.task)) { at("five").textContent = at("drawn").textContent = ""; return; }
  const n = numberOf(visit.task);
  const tries = state.rows.filter((row) => row.sheet === "lessons" && row.date === visit.date && row.task === visit.task
    && row.method === visit.method).slice(0, setup.first);
  const marks = tries.map((row) => !row.success || row.contacts ? words.mark_not : row.help === "I" ? words.mark_alone : words.mark_helped);
  at("five").textContent = n > setup.first ? words.practice : filled(words.first_five, { n: setup.first, marks: marks.join(", ") || "-" });
  at("drawn").textContent = visit.drawn.includes((n - 1) % setup.first + 1) ? words.stop_here : words.no_stop_here;
}

function draws() {
  const places = Array.from({ length: setup.first }, (_, at) => at + 1);
  const drawn = [];
  while (drawn.length < N_DRAWN) drawn.push(...places.splice(Math.floor(Math.random() * places.length), 1));
  return drawn;
}

function totals() {
  const lines = [];
  const groups = new Map();
  for (const row of state.rows) {
    const key = [row.date, plain(row.method), plain(row.task)].join(", ");
    groups.set(key, [...(groups.get(key) || []), row]);
  }
  for (const [key, rows] of groups) {
    const sum = (name) => rows.reduce((total, row) => total + (row[name] || 0), 0);
    const releases = rows.map((row) => row.release_s).filter((value) => value !== undefined);
    const pattern = setup.stops[rows[0].sheet].includes(rows[0].task) ? words.stops_line : words.tries_line;
    const parts = [key + ": " + filled(pattern, { done: sum("success"), n: rows.length })];
    const alone = rows.filter((row) => row.help === "I").length;
    if (rows[0].sheet === "lessons") parts.push(filled(words.alone_line, { n: alone }));
    for (const name of COUNTED) if (sum(name)) parts.push(words[name].toLowerCase() + " " + sum(name));
    if (releases.length) parts.push(filled(words.slowest, { s: Math.max(...releases).toFixed(2), n: releases.length }));
    lines.push(parts.join("; "));
  }
  return lines.join("\n");
}

// ---- the file -----------------------------------------------------------------------------------------

const quoted = (value) => {
  const text = value === undefined || value === null ? "" : String(value);
  const safe = /^[=+\-@\t\r]/.test(text) && typeof value === "string" ? "'" + text : text;
  return /[",\r\n]/.test(safe) ? '"' + safe.replace(/"/g, '""') + '"' : safe;
};

function files() {
  const made = {};
  for (const [sheet, columns] of Object.entries(setup.columns)) {
    const rows = state.rows.filter((row) => row.sheet === sheet);
    if (!rows.length) continue;
    const lines = rows.map((row) => columns.map((column) => quoted(cell(row, column))).join(","));
    made["count-" + sheet + "-" + rows[rows.length - 1].date + ".csv"] = [columns.join(","), ...lines].join("\n") + "\n";
  }
  return made;
}

function cell(row, column) {
  if (column === "counted_for") return setup.mark;
  if (column === "prompts_physical") return row.helped;
  if (column === "stage") return row.method;
  const seating = [row.worn && words.worn_short + ": " + row.worn, row.seat && words.seat_short + ": " + row.seat].filter(Boolean);
  if (column === "seating") return seating.join("; ");
  // a lesson has no column for it
  if (column === "note" && row.sheet === "lessons") return [row.note, ...(row.attempt === 1 ? seating : [])].filter(Boolean).join("; ");
  return row[column];
}

async function save() {
  for (const [name, text] of Object.entries(files())) {
    const link = document.createElement("a");
    link.href = URL.createObjectURL(new Blob([text], { type: "text/csv" }));
    link.download = name;
    link.click();
    say(filled(words.saved_as, { name }));
  }
}

const shared = () => Object.entries(files()).map(([name, text]) => new File([text], name, { type: "text/csv" }));

async function clear() {
  state = { visit: null, rows: [], now: null };
  earlier.length = 0;
  stopClock();
  await saving;
  await put(JSON.stringify(state), "state");
  at("clear-sure").hidden = true;
  at("kept").textContent = words.cleared;
  draw();
}

// ---- taps -------------------------------------------------------------------------------------------

function stopEnds(outcome) {
  endStop(outcome);
  at(ofLessons() ? "surprise" : "asked").focus();
}

function listen() {
  for (const button of document.querySelectorAll("[data-adds]")) {
    button.addEventListener("click", () => {
      remember();
      state.now[button.dataset.adds] += 1;
      draw();
      say(button.textContent);
      keep();
    });
  }
  const taps = {
    "asked": () => startClock(),
    "surprise": () => startClock(1),
    "announced": () => startClock(0),
    "input-off": () => timed("release_s", "stands"),
    "stands": () => timed("seconds", "made"),
    "made": () => stopEnds("done"),
    "made-helped": () => stopEnds("helped"),
    "no-stop": () => stopEnds("not"),
    "done": () => end("done"),
    "done-helped": () => end("helped"),
    "not-done": () => end("not"),
    "undo": () => {
      if (!earlier.length) return;
      state = JSON.parse(earlier.pop());
      stopClock();
      draw();
      say(words.undone);
      keep();
    },
    "change": () => { state.now = null; offerPlanned(); draw(); at("method").focus(); keep(); },
    "save": save,
    "share": () => navigator.share({ files: shared() }).catch(() => say(words.not_shared)),
    "copy": () => { at("totals-text").select(); say(document.execCommand("copy") ? words.copied : words.not_copied); },
    "clear": () => { at("clear-sure").hidden = false; at("clear-no").focus(); },
    "clear-no": () => { at("clear-sure").hidden = true; at("clear").focus(); },
    "clear-yes": clear,
  };
  for (const [id, does] of Object.entries(taps)) at(id).addEventListener("click", does);
  at("method").addEventListener("change", () => { leavePlanned(); fillTasks(); });
  at("task").addEventListener("change", () => { leavePlanned(); ownFields(); });
  if (at("planned")) at("planned").addEventListener("change", takePlanned);
  at("sheet").addEventListener("change", () => { fillLists(); offerPlanned(); });
  at("visit").addEventListener("submit", (event) => {
    event.preventDefault();
    const value = (id) => at(id).value.trim();
    remember();
    const planned = isPlanned() ? at("planned").value : undefined;
    state.visit = { planned, sheet: sheetNow(), date: value("date"), method: chosen("method"), task: chosen("task"), worn: value("worn"), seat: value("seat"),
      counts: [...document.querySelectorAll("[data-counts]")].filter((box) => box.checked)
        .map((box) => box.dataset.counts).filter((name) => setup.counted[sheetNow()].includes(name)),
      drawn: draws() };
    state.now = fresh();
    draw();
    at("now").focus();
    keep();
  });
}

function today() {
  const day = new Date();
  const two = (n) => String(n).padStart(2, "0");
  return day.getFullYear() + "-" + two(day.getMonth() + 1) + "-" + two(day.getDate());
}

async function start() {
  try {
    database = await opened();
    await put(setup.mark, "test");
    if (await got("test") !== setup.mark) throw new Error("not kept");
    const before = await got("state");
    if (before) state = JSON.parse(before);
  } catch {
    refuse(words.no_storage);
    return; // nothing can be tapped: what would be counted would be lost
  }
  fillLists();
  if (at("planned")) fillPlanned();
  offerPlanned();
  at("date").value = today();
  if (state.visit) { at("worn").value = state.visit.worn; at("seat").value = state.visit.seat; }
  at("share").hidden = !(navigator.canShare && navigator.canShare({ files: [new File([""], "a.csv", { type: "text/csv" })] }));
  listen();
  draw();
  at("kept").textContent = filled(words.kept, { n: state.rows.length });
}

start();
