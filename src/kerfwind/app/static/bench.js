// In the shop: one screen at a time, ticks at the thumb, the screen kept awake.
let at = sessionStorage.getItem("screen");
let awake = null;

const screens = () => [...document.querySelectorAll("main > .screen")];
const ticked = (screen) => screen.querySelector(".tick").getAttribute("aria-pressed") === "true";

export function stage(keep) {
  const all = screens();
  if (!all.length) return;
  if (!all.some((s) => s.id === at)) at = (all.find((s) => !ticked(s)) || all[all.length - 1]).id;
  show();
  disarm();
  if (document.querySelector(".question"))
    for (const form of document.querySelectorAll(".came-short[open]")) form.open = false;
  if (!document.body.dataset.bench) listen(keep);
  document.body.dataset.bench = "yes";
  stayAwake();
}

function show() {
  const all = screens();
  for (const screen of all) screen.hidden = screen.id !== at;
  const here = all.findIndex((s) => s.id === at);
  all[here].querySelector("[data-turn='-1']").disabled = here === 0;
  all[here].querySelector("[data-turn='1']").disabled = here === all.length - 1;
  sessionStorage.setItem("screen", at);
}

function turn(by) {
  const all = screens();
  const here = all.findIndex((s) => s.id === at);
  at = (all[here + by] || all[here]).id;
  show();
  scrollTo(0, 0);
}

async function stayAwake() {
  const line = document.getElementById("awake");
  if (!navigator.wakeLock) {
    if (line) line.hidden = false;
    return;
  }
  if (awake && !awake.released) return;
  try {
    awake = await navigator.wakeLock.request("screen");
  } catch {
    if (line) line.hidden = false; // It is not allowed at the moment, as with a low battery.
  }
}

export function letSleep() {
  awake?.release();
  awake = null;
}

function prefill(form) {
  const field = (name) => form.elements.namedItem(name);
  const panel = field("panel").selectedOptions[0];
  field("length").value = panel.dataset.length;
  field("width").value = panel.dataset.width;
}

const layout = () => document.querySelector("[data-of]").dataset.of;

// What throws work away wants a second touch, and forgets the first as soon as anything else is done.
let armed = null, said = "";

function disarm() {
  if (armed) armed.textContent = said;
  armed = null;
}

function listen(keep) {
  document.addEventListener("visibilitychange", () => {
    if (!document.hidden && screens().length) stayAwake();
  });
  document.addEventListener("click", (event) => {
    const tick = event.target.closest("[data-tick]");
    if (!event.target.closest("[data-work]")) disarm();
    if (tick) {
      const on = tick.getAttribute("aria-pressed") !== "true";
      tick.setAttribute("aria-pressed", String(on));
      keep({ t: "tick", key: tick.dataset.tick, of: layout(), on });
      const cut = tick.dataset.tick.match(/^cut:(\d+)$/)?.[1];
      for (const line of cut ? document.querySelectorAll(`.nest [data-cut="${cut}"]:not([data-state=now])`) : [])
        line.dataset.state = on ? "done" : "later";
      return;
    }
    const way = event.target.closest("[data-turn]");
    if (way) return turn(Number(way.dataset.turn));
    const work = event.target.closest("[data-work]");
    if (!work) return;
    if (work.dataset.sure && work !== armed) {
      disarm();
      [armed, said] = [work, work.textContent];
      work.textContent = work.dataset.sure;
      return;
    }
    if (work === armed && event.detail > 1) return; // A double touch is no second thought.
    disarm();
    const { work: what, way: how, panel, sides } = work.dataset;
    keep({ t: "work", what, way: how, panel, sides: sides ? JSON.parse(sides) : [] });
  });
  document.addEventListener("change", (event) => {
    if (event.target.name === "panel" && event.target.form) prefill(event.target.form);
  });
  document.addEventListener("submit", (event) => {
    const form = event.target.closest("[data-short]");
    if (!form) return;
    event.preventDefault();
    const [panel, length, width] = ["panel", "length", "width"].map((n) => form.elements.namedItem(n));
    const key = form.closest(".screen").querySelector(".tick").dataset.tick;
    keep({ t: "short", key, of: layout(), panel: panel.value, length: length.value, width: width.value });
    scrollTo(0, 0);
  });
}
