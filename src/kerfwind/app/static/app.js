// What a person does goes to the server; what the server shows is put in its place.
import { Idiomorph } from "./vendor/idiomorph.js";

const $ = (selector, within = document) => within.querySelector(selector);
const main = $("main");
const texts = JSON.parse($("#texts").textContent);
const client = remembered("client", () => crypto.getRandomValues(new Uint32Array(4)).join("-"));
let waiting = JSON.parse(sessionStorage.getItem("waiting") || "[]");
let sequence = Number(sessionStorage.getItem("sequence") || 0);
let place = "";
let socket = null;
let pause = 250;
const typed = new Map();
// What was entered and is not taken, by its place: it stays in its field until it is mended.
const untaken = new Map(JSON.parse(sessionStorage.getItem("untaken") || "[]"));

function remembered(name, make) {
  const known = sessionStorage.getItem(name);
  if (known) return known;
  const value = make();
  sessionStorage.setItem(name, value);
  return value;
}

// ---- the connection: what is not acknowledged is sent again -----------------------------------

function connect() {
  socket = new WebSocket(`${location.protocol === "https:" ? "wss" : "ws"}://${location.host}/live`);
  socket.onopen = () => {
    pause = 250;
    say({ t: "hello", client, place });
    waiting.forEach(say);
    tellWaiting();
  };
  socket.onmessage = (event) => take(JSON.parse(event.data));
  socket.onclose = () => {
    tellWaiting(true);
    setTimeout(connect, pause);
    pause = Math.min(pause * 2, 4000);
  };
}

function say(message) {
  if (socket && socket.readyState === WebSocket.OPEN) socket.send(JSON.stringify(message));
}

function keep(message) {
  sequence += 1;
  const kept = { ...message, client, seq: sequence };
  waiting.push(kept);
  say(kept);
  store();
  tellWaiting();
  return sequence;
}

function store() {
  sessionStorage.setItem("waiting", JSON.stringify(waiting));
  sessionStorage.setItem("sequence", String(sequence));
}

function done(seq) {
  waiting = waiting.filter((m) => m.seq !== seq);
  store();
  later(() => {
    tellWaiting();
    tellWorking();
  });
}

// What is told of an edit is drawn together with its answer, where that comes soon: every drawing
// of its own costs a frame.
const SOON_MS = 150;
let untold = [];
let telling = 0;

function later(tell) {
  untold.push(tell);
  telling ||= setTimeout(tellNow, SOON_MS);
}

function tellNow() {
  clearTimeout(telling);
  telling = 0;
  const all = untold;
  untold = [];
  for (const tell of all) tell();
}

function tellWaiting(lost = false) {
  const away = lost || !socket || socket.readyState !== WebSocket.OPEN;
  const line = $("#connection");
  line.dataset.state = away ? "lost" : waiting.length ? "waiting" : untaken.size ? "untaken" : "saved";
  if (line.dataset.state === "waiting") later(sayWaiting);
  else sayWaiting();
}

function sayWaiting() {
  const line = $("#connection");
  const { state } = line.dataset;
  const count = waiting.length > (state === "lost" ? 0 : 1) ? ` (${waiting.length})` : "";
  line.textContent = (state === "untaken" ? texts["untaken.saved"] : texts[state]) + count;
}

// ---- what the server shows ---------------------------------------------------------------------

function take(message) {
  if (message.t === "parts") show(message);
  else if (message.t === "ack") {
    acknowledged = Math.max(acknowledged, message.revision);
    delete document.body.dataset.last;
    if (untaken.size) taken(waiting.find((m) => m.seq === message.seq));
    done(message.seq);
  } else if (message.t === "doing") doing(message);
  else if (message.t === "given-up") givenUp(message);
  else if (message.t === "refused") refused(message);
  else if (message.t === "clash") clash(message);
  else if (message.t === "state") later(() => tellSteps(message));
  else if (message.t === "phone") $("#phone > div").innerHTML = message.html;
  else if (message.t === "notice") notice(message.text);
}

function tellSteps(message) {
  for (const way of ["undo", "redo"]) {
    const button = $(`#${way}`);
    button.disabled = !message[way];
    button.title = message[way];
    $(".does", button).textContent = message[way].replace(/^[^:]*: /, "");
  }
}

// ---- what is being worked out -----------------------------------------------------------------

let acknowledged = 0;
let givingUp = false;

// What is shown is of before the last change, or only its first answer.
function tellWorking() {
  const { revision, checking } = document.body.dataset;
  const old = Number(revision || 0) < acknowledged;
  const line = $("#working");
  document.body.dataset.old = old ? "yes" : "no";
  line.hidden = givingUp || !(old || checking === "yes");
  $("#enough").hidden = old;
  if (line.hidden) doing({ text: "", at: 0, of: 1 });
}

function doing({ text, at, of }) {
  $("#doing").textContent = text ? `${texts.working} ${text}` : texts.working;
  const bar = $("#working progress");
  bar.max = of;
  bar.value = at;
}

function givenUp({ text, again }) {
  givingUp = true;
  const line = $("#given-up");
  $("p", line).textContent = text;
  $("button", line).textContent = again;
  line.hidden = false;
  tellWorking();
}

$("#enough").addEventListener("click", () => say({ t: "stop" }));
$("#given-up button").addEventListener("click", () => {
  givingUp = false;
  $("#given-up").hidden = true;
  tellWorking();
  say({ t: "again" });
});

// What is shown may be older than an edit that is still on its way.
function unsaved(field) {
  if (!waiting.length || !field.dataset.place) return false;
  const at = JSON.stringify(JSON.parse(field.dataset.place));
  return waiting.some((m) => m.edits?.some((e) => JSON.stringify(e.place) === at));
}

const morphing = {
  morphStyle: "outerHTML",
  ignoreActiveValue: true,
  callbacks: {
    beforeAttributeUpdated: (name, element) => !(name === "open" && element.tagName === "DETAILS"),
    beforeNodeMorphed: (old, fresh) => {
      if (old.classList?.contains("screen")) fresh.hidden = old.hidden;
      if (old.id === "printed") {
        // The pages stay until they are asked for anew.
        old.dataset.plan = fresh.dataset.plan;
        return false;
      }
      if (old.id === "model" && old.classList.contains("turning") && old.dataset && fresh.dataset && old.dataset.scene === fresh.dataset.scene) return false;
      if (old.nodeType === 1 && old.matches("input,textarea,select") && (typed.has(old.id) || unsaved(old))) return false;
      return true;
    },
  },
};

// One place of what is shown; the frame stands around every place.
function showPlace({ place: of, order, parts }) {
  for (const [id, html] of Object.entries(parts)) {
    const old = document.getElementById(id);
    if (old) Idiomorph.morph(old, html, morphing);
    else if (of !== "frame") main.insertAdjacentHTML("beforeend", html);
  }
  if (of === "frame") {
    const count = Number($("#frame-todo").dataset.count);
    $("#side > summary").dataset.count = count || "";
    return;
  }
  for (const old of [...main.children]) if (!order.includes(old.id)) old.remove();
  let before = null;
  for (const id of order) {
    const part = document.getElementById(id);
    if (!part) continue;
    if (before ? before.nextElementSibling !== part : main.firstElementChild !== part) {
      if (before) before.after(part);
      else main.prepend(part);
    }
    before = part;
  }
}

function show({ of, places, checking, revision }) {
  tellNow();
  for (const each of places) if (each.place === "frame" || each.place === place) showPlace(each);
  if (untaken.size) markUntaken();
  // What is said of a place that was left is not of the one that is waited for.
  if (of !== place) return;
  main.dataset.shown = place;
  main.removeAttribute("aria-busy");
  document.body.dataset.checking = checking ? "yes" : "no";
  document.body.dataset.revision = revision;
  givingUp = false;
  $("#given-up").hidden = true;
  tellWorking();
  if (wanted) lead();
  toPart();
  if (place === "bench") import("./bench.js").then((m) => m.stage(keep));
  if ($("#model")) import("./model.js").then((m) => $("#model") && m.stage($("#model")));
  if (place === "paper" && !checking && $("#printed")) toPrint();
}

// ---- going about -------------------------------------------------------------------------------

let wanted = null;
let wantedPart = "";

// Part of a place that a line of the list leads to, as soon as it is there.
function toPart() {
  const part = wantedPart && document.getElementById(wantedPart);
  if (!part) return;
  wantedPart = "";
  part.scrollIntoView();
  part.classList.add("lit");
  setTimeout(() => part.classList.remove("lit"), 2500);
}

function go(to) {
  if (place === "bench") import("./bench.js").then((m) => m.letSleep());
  place = to || "shop";
  document.body.dataset.at = place;
  for (const link of document.querySelectorAll("nav a")) {
    if (link.hash === `#${place}`) link.setAttribute("aria-current", "page");
    else link.removeAttribute("aria-current");
  }
  if (main.dataset.shown !== place) {
    main.replaceChildren();
    main.setAttribute("aria-busy", "true");
  }
  say({ t: "go", place });
}

function lead() {
  const fields = [...document.querySelectorAll("main :is(input,select,textarea):is([data-place],[data-group])")];
  const placeOf = (e) => e.dataset.place || e.dataset.group;
  const at = JSON.parse(wanted);
  wanted = null;
  let field = null;
  // What is only assumed has no row of its own: then the nearest that there is.
  for (const first = at[0]; at.length && !field; at.pop()) {
    const whole = JSON.stringify(at);
    field = fields.find((e) => placeOf(e) === whole) || fields.find((e) => placeOf(e).startsWith(`${whole.slice(0, -1)},`));
    if (!field && at.length === 1) field = $(`#shop-${CSS.escape(first)} button, #shop-${CSS.escape(first)} summary`);
  }
  if (!field) return;
  for (let up = field.parentElement; up; up = up.parentElement) if (up.tagName === "DETAILS") up.open = true;
  field.scrollIntoView({ block: "center" });
  field.focus();
  const box = field.closest(".field,section");
  box.classList.add("lit");
  setTimeout(() => box.classList.remove("lit"), 2500);
}

addEventListener("hashchange", () => go(location.hash.slice(1)));

// ---- editing -----------------------------------------------------------------------------------

function valueOf(field) {
  if (field.dataset.kind === "bool") return field.checked;
  const text = field.value.trim();
  if (text === "") return null;
  if (field.dataset.kind === "number") {
    const number = Number(text.replace(",", "."));
    return Number.isFinite(number) ? number : text;
  }
  return text;
}

function edited(field) {
  const old = JSON.parse(field.dataset.old || "null");
  const fresh = valueOf(field);
  if (JSON.stringify(old) === JSON.stringify(fresh)) {
    if (untaken.has(field.dataset.place)) takeBack(field.dataset.place);
    return;
  }
  field.dataset.old = JSON.stringify(fresh);
  const seq = keep({ t: "edit", edits: [{ place: JSON.parse(field.dataset.place), old, new: fresh }] });
  typed.set(field.id, seq);
}

let timer = 0;
document.addEventListener("input", (event) => {
  const field = event.target;
  if (!field.dataset.place || !["quantity", "number"].includes(field.dataset.kind)) return;
  clearTimeout(timer);
  typed.set(field.id, 0);
  timer = setTimeout(() => edited(field), 350);
});

document.addEventListener("change", (event) => {
  const field = event.target;
  if (field.dataset.group) return group(field);
  if (!field.dataset.place) return;
  clearTimeout(timer);
  edited(field);
  typed.delete(field.id);
});

document.addEventListener("submit", (event) => {
  if (!event.target.matches("[data-tool-named]")) return;
  event.preventDefault();
  const field = event.target.elements.tool;
  if (field.value.trim()) keep({ t: "tool", name: field.value });
  field.value = "";
});

document.addEventListener("focusin", (event) => {
  for (const lit of document.querySelectorAll(".drawn-lit")) lit.classList.remove("drawn-lit");
  const field = event.target.closest("[data-place],[data-group]");
  if (!field) return;
  for (const line of document.querySelectorAll(`[data-focus="${CSS.escape(field.id)}"]`)) line.classList.add("drawn-lit");
  const [list, name] = JSON.parse(field.dataset.place || field.dataset.group);
  if (list !== "tools") return;
  for (const tool of document.querySelectorAll("#floor .tool")) if (tool.dataset.tool === name) tool.classList.add("drawn-lit");
});

document.addEventListener("focusout", (event) => typed.delete(event.target.id));

function group(field) {
  const all = [...document.querySelectorAll(`[data-group='${CSS.escape(field.dataset.group)}']`)].length
    ? [...field.closest("[role=group]").querySelectorAll("input")] : [field];
  const chosen = all.filter((f) => f.checked).map((f) => f.value);
  const old = JSON.parse(field.dataset.old || "null");
  const fresh = chosen.length || old ? chosen : null;
  keep({ t: "edit", edits: [{ place: JSON.parse(field.dataset.group), old, new: fresh }] });
}

document.addEventListener("click", (event) => {
  const button = event.target.closest("[data-do]");
  if (button?.dataset.do === "edit") return void keep({ t: "edit", edits: JSON.parse(button.dataset.edits) });
  if (button) {
    const at = JSON.parse(button.dataset.place);
    const fresh = button.dataset.new ? JSON.parse(button.dataset.new) : null;
    if (button.dataset.do === "add")
      keep({ t: "edit", edits: [{ place: [...at, fresh.name ?? -1], old: null, new: fresh }] });
    if (button.dataset.do === "remove")
      keep({ t: "edit", edits: [{ place: at, old: JSON.parse(button.dataset.old), new: null }] });
    if (button.dataset.do === "set")
      keep({ t: "edit", edits: [{ place: at, old: JSON.parse(button.dataset.old || "null"), new: fresh }] });
    return;
  }
  const begin = event.target.closest("[data-begin]");
  if (begin) {
    if (begin.dataset.sure) {
      begin.textContent = begin.dataset.sure;
      delete begin.dataset.sure;
    } else keep({ t: "begin", what: begin.dataset.begin });
    return;
  }
  const step = event.target.closest("[data-play]");
  if (step) return playTo(Number($("#cut-played").value) + Number(step.dataset.play));
  if (event.target.closest("#play")) return play();
  if (event.target.closest("[data-rest]")) return say({ t: "rest" });
  if (event.target.closest("#show-pages")) return void pages();
  const phone = event.target.closest("[data-phone]");
  if (phone) return say({ t: "phone", in: phone.dataset.phone === "in" });
  const aside = event.target.closest("[data-aside]");
  if (aside) return void keep({ t: "aside", what: aside.dataset.aside });
  const field = event.target.closest("[data-field]");
  if (field) {
    event.preventDefault();
    wanted = field.dataset.field;
    if (matchMedia("(max-width: 60rem)").matches) $("#side").removeAttribute("open");
    if (place === "shop" || fieldAt(wanted)) lead();
    else location.hash = "#shop";
    return;
  }
  const way = event.target.closest("[data-part]");
  if (way) {
    wantedPart = way.dataset.part;
    if (matchMedia("(max-width: 60rem)").matches) $("#side").removeAttribute("open");
    toPart();
    return;
  }
  const line = event.target.closest("[data-focus]");
  if (line) {
    event.preventDefault();
    const field = document.getElementById(line.dataset.focus);
    for (let at = field; at; at = at.parentElement) if (at.tagName === "DETAILS") at.open = true;
    field?.focus();
  }
  const panel = event.target.closest("[data-panel]");
  if (panel) import("./model.js").then((m) => m.light(panel.dataset.marks));
});

$("#undo").addEventListener("click", () => keep({ t: "undo" }));
$("#redo").addEventListener("click", () => keep({ t: "redo" }));
addEventListener("keydown", (event) => {
  if (!(event.ctrlKey || event.metaKey) || event.target.matches("input,textarea")) return;
  if (event.key === "z" && !event.shiftKey) keep({ t: "undo" });
  else if (event.key === "y" || (event.key === "z" && event.shiftKey)) keep({ t: "redo" });
  else return;
  event.preventDefault();
});

// ---- what is not taken: it stays in its field, and the frame says so in every place ------------

const fieldAt = (key) => [...document.querySelectorAll("main :is(input,select,textarea)[data-place]")].find((f) => f.dataset.place === key);
const shownOld = (field) => String(JSON.parse(field.dataset.old || "null") ?? "");

function refused({ seq, place: at, text, name }) {
  const message = waiting.find((m) => m.seq === seq);
  document.body.dataset.last = "refused";
  done(seq);
  const key = JSON.stringify(at);
  const edit = message?.t === "edit" && message.edits.length === 1 ? message.edits[0] : null;
  const field = fieldAt(key);
  // Not what stands in a field, such as a tool that was drawn out of the room.
  if (!edit || edit.new === null || typeof edit.new === "object" || edit.free) return notice(text);
  untaken.set(key, { text: String(edit.new), why: text, name });
  if (field && field.dataset.old === JSON.stringify(edit.new)) field.dataset.old = JSON.stringify(edit.old);
  markUntaken();
  tellUntaken();
}

function markUntaken() {
  for (const [key, { text, why }] of untaken) {
    const field = fieldAt(key);
    // Something else is being typed there, or is on its way.
    if (!field || typed.get(field.id) === 0 || unsaved(field)) continue;
    if (field !== document.activeElement) field.value = text;
    field.setAttribute("aria-invalid", "true");
    const box = field.closest(".field");
    box.dataset.before ||= box.dataset.state;
    box.dataset.state = "wrong";
    let line = $(".refused", box);
    if (!line) {
      line = document.createElement("p");
      line.className = "refused";
      line.setAttribute("role", "alert");
      box.append(line);
    }
    line.replaceChildren(`${why} `, backButton(key));
  }
}

function backButton(key) {
  const button = document.createElement("button");
  Object.assign(button, { type: "button", className: "quiet", textContent: texts["untaken.back"] });
  button.dataset.back = key;
  return button;
}

function tellUntaken() {
  sessionStorage.setItem("untaken", JSON.stringify([...untaken]));
  const told = $("#untaken");
  told.hidden = !untaken.size;
  $("strong", told).textContent = `${texts.untaken}: ${untaken.size}.`;
  $("ul", told).replaceChildren(...[...untaken].map(([key, { text, name }]) => {
    const row = document.createElement("li");
    const link = document.createElement("a");
    Object.assign(link, { href: "#shop", textContent: `${name}: “${text}”` });
    link.dataset.field = key;
    row.append(link, " ", backButton(key));
    return row;
  }));
  tellWaiting();
}

function unmark(field) {
  const box = field.closest(".field");
  field.removeAttribute("aria-invalid");
  if (!box) return;
  $(".refused", box)?.remove();
  if (box.dataset.before) box.dataset.state = box.dataset.before;
  delete box.dataset.before;
}

function takeBack(key) {
  untaken.delete(key);
  delete document.body.dataset.last;
  const field = fieldAt(key);
  if (field) {
    field.value = shownOld(field);
    typed.delete(field.id);
    unmark(field);
  }
  tellUntaken();
}

// What was taken may stand where something was not, take its row away, or name it anew.
function taken(message) {
  if (!message) return;
  if (message.t === "begin" || message.what === "restore") untaken.clear();
  for (const { place: at, new: fresh } of message.edits || []) {
    const end = at.length - 1;
    for (const [key, kept] of [...untaken]) {
      const of = JSON.parse(key);
      if (at.slice(0, end).some((part, n) => part !== of[n])) continue;
      const same = of[end] === at[end];
      if (same && (of.length === at.length || fresh === null)) untaken.delete(key);
      else if (fresh === null && typeof at[end] === "number" && of[end] > at[end]) renamed(key, kept, of, end, of[end] - 1);
      else if (end === 2 && at[2] === "name" && typeof fresh === "string") renamed(key, kept, of, 1, fresh);
    }
  }
  tellUntaken();
}

function renamed(key, kept, of, part, name) {
  untaken.delete(key);
  of[part] = name;
  untaken.set(JSON.stringify(of), kept);
}

document.addEventListener("keydown", (event) => {
  const field = event.target;
  if (event.key !== "Escape" || !field.dataset?.place || !field.matches("input:not([type=checkbox]),textarea")) return;
  clearTimeout(timer);
  if (untaken.has(field.dataset.place)) takeBack(field.dataset.place);
  else field.value = shownOld(field);
});

document.addEventListener("click", (event) => {
  const back = event.target.closest("[data-back]");
  if (back) takeBack(back.dataset.back);
});

document.addEventListener("input", (event) => {
  if (event.target.closest(".field")) unmark(event.target);
});

// ---- two changes of one field ------------------------------------------------------------------

function clash({ seq, place: at, text, yours, theirs, keepText, takeText }) {
  const asked = $("#clash");
  $("p", asked).textContent = text;
  const [mine, other] = asked.querySelectorAll("button");
  mine.textContent = keepText;
  other.textContent = takeText;
  mine.onclick = () => {
    done(seq);
    keep({ t: "edit", edits: [{ place: at, old: theirs, new: yours }] });
    asked.close();
  };
  other.onclick = () => {
    done(seq);
    asked.close();
    say({ t: "go", place });
  };
  if (!asked.open) asked.showModal();
}

let noticed = 0;

function notice(text) {
  const line = $("#notice");
  clearTimeout(noticed);
  line.textContent = text;
  line.hidden = !text;
  if (text) noticed = setTimeout(() => (line.hidden = true), 8000);
}

// ---- the floor: tools are dragged --------------------------------------------------------------

let dragged = null;
const onFloor = (svg, event) => new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());

document.addEventListener("pointerdown", (event) => {
  const tool = event.target.closest?.("#floor .tool");
  if (!tool) return;
  const svg = tool.ownerSVGElement;
  const at = onFloor(svg, event);
  const deep = Number(svg.dataset.deep);
  const from = { x: Number(tool.dataset.x), y: Number(tool.dataset.y) };
  dragged = { tool, svg, deep, from, dx: at.x - from.x, dy: at.y - (deep - from.y), to: from };
  tool.setPointerCapture(event.pointerId);
  tool.classList.add("dragged");
  event.preventDefault();
});

document.addEventListener("pointermove", (event) => {
  if (!dragged) return;
  const at = onFloor(dragged.svg, event);
  moveTool(dragged, { x: at.x - dragged.dx, y: dragged.deep - (at.y - dragged.dy) });
});

document.addEventListener("pointerup", () => {
  if (!dragged) return;
  dragged.tool.classList.remove("dragged");
  placeTool(dragged);
  dragged = null;
});

document.addEventListener("keydown", (event) => {
  const tool = event.target.closest?.("#floor .tool");
  const step = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key];
  if (!tool || !step) return;
  event.preventDefault();
  const svg = tool.ownerSVGElement;
  const from = { x: Number(tool.dataset.x), y: Number(tool.dataset.y) };
  const far = svg.dataset.unit === "mm" ? 0.1 : 0.1524;
  const moved = { tool, svg, deep: Number(svg.dataset.deep), from };
  moveTool(moved, { x: from.x + step[0] * far, y: from.y + step[1] * far });
  placeTool(moved);
});

function moveTool(moved, to) {
  moved.to = { x: Math.max(0, to.x), y: Math.max(0, to.y) };
  moved.tool.dataset.x = moved.to.x;
  moved.tool.dataset.y = moved.to.y;
  moved.tool.setAttribute("transform", `translate(${moved.to.x} ${moved.deep - moved.to.y})`);
}

function placeTool({ tool, svg, to, from }) {
  if (Math.hypot(to.x - from.x, to.y - from.y) < 0.01) return;
  const at = JSON.parse(tool.dataset.place);
  const written = (m) => (svg.dataset.unit === "mm" ? `${Math.round(m * 100) / 100} m` : `${Math.round(m / 0.0254)} in`);
  keep({ t: "edit", edits: ["x", "y"].map((axis) => ({ place: [...at, axis], old: null, new: written(to[axis]), free: true })) });
}

// ---- light and dark, a file dropped, the start -------------------------------------------------

const theme = localStorage.getItem("theme");
if (theme) document.documentElement.dataset.theme = theme;
$("#theme").addEventListener("click", () => {
  const dark = document.documentElement.dataset.theme
    ? document.documentElement.dataset.theme === "dark"
    : matchMedia("(prefers-color-scheme: dark)").matches;
  document.documentElement.dataset.theme = dark ? "light" : "dark";
  localStorage.setItem("theme", document.documentElement.dataset.theme);
});

// ---- the pages as they print: made when somebody comes to see them, not at each change ----------

function toPrint() {
  const sheets = $("#printed");
  const shown = sheets.dataset.shown;
  $("#show-pages").hidden = !shown || shown === sheets.dataset.plan;
  sheets.classList.toggle("older", Boolean(shown) && shown !== sheets.dataset.plan);
  if (!shown && sheets.dataset.plan) pages();
}

async function pages() {
  const sheets = $("#printed");
  const plan = sheets.dataset.plan;
  sheets.dataset.shown = plan;
  sheets.setAttribute("aria-busy", "true");
  $("#show-pages").hidden = true;
  const answer = await fetch("/pages").catch(() => null);
  if (!sheets.isConnected) return;
  sheets.removeAttribute("aria-busy");
  sheets.classList.remove("older");
  if (!answer?.ok) {
    sheets.dataset.shown = "nothing";
    $("#show-pages").hidden = false;
    return notice(texts["paper.failed"]);
  }
  const { pages: addresses, names } = await answer.json();
  sheets.replaceChildren(...addresses.map((address, n) => {
    const link = document.createElement("a");
    const page = document.createElement("img");
    Object.assign(page, { src: address, alt: names[n], loading: "lazy" });
    Object.assign(link, { href: address, target: "_blank" });
    link.append(page);
    return link;
  }));
}

// ---- the cuts played -----------------------------------------------------------------------

let playing = 0;

function playTo(to) {
  const slider = $("#cut-played");
  if (!slider) return stopPlay();
  slider.value = to;
  const at = Number(slider.value);
  const said = [...document.querySelectorAll(".play-said li")];
  for (const line of said) line.hidden = Number(line.dataset.at) !== at;
  const made = new Set(said.slice(1, at).map((l) => l.dataset.cut));
  const now = said[at]?.dataset.cut;
  for (const sheet of document.querySelectorAll(".play-sheet")) {
    let here = !now;
    for (const cut of sheet.querySelectorAll("[data-cut]")) {
      cut.dataset.state = cut.dataset.cut === now ? "now" : made.has(cut.dataset.cut) ? "done" : "later";
      if (cut.dataset.cut === now) here = true;
    }
    sheet.hidden = !here;
  }
  if (at >= Number(slider.max)) stopPlay();
}

function stopPlay() {
  clearInterval(playing);
  playing = 0;
  const button = $("#play");
  if (button?.dataset.go) button.textContent = button.dataset.go;
}

function play() {
  if (playing) return stopPlay();
  const button = $("#play"), slider = $("#cut-played");
  button.dataset.go ||= button.textContent;
  button.textContent = button.dataset.stop;
  if (slider.value === slider.max) playTo(0);
  playing = setInterval(() => playTo(Number($("#cut-played")?.value) + 1), 1400);
}

document.addEventListener("input", (event) => {
  if (event.target.id === "cut-played") playTo(event.target.value);
});

async function bring(file) {
  if (!file) return;
  const answer = await fetch("/bring", { method: "POST", body: file }).catch(() => null);
  if (answer?.ok && untaken.size) {
    untaken.clear();
    tellUntaken();
  }
  notice(answer ? await answer.text() : texts["bring.failed"]);
}

document.addEventListener("change", (event) => {
  if (event.target.id === "bring") bring(event.target.files[0]);
});

addEventListener("dragover", (event) => event.preventDefault());
addEventListener("drop", (event) => {
  event.preventDefault();
  bring(event.dataTransfer.files[0]);
});

document.addEventListener("input", (event) => {
  if (event.target.id === "apart" || event.target.id === "step")
    import("./model.js").then((m) => m.pose(Number($("#apart").value) / 100, Number($("#step").value)));
});

if (matchMedia("(max-width: 60rem)").matches) $("#side").removeAttribute("open");
go(location.hash.slice(1) || document.body.dataset.at);
if (untaken.size) tellUntaken();
connect();
