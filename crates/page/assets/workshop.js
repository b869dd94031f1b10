// What moves on the page. Without it every form is sent by its key and every working opens on its own page.

const MOVING = ["answer", "plan", "drawing"];
const SETTLED = ["car", "state", "index", "answer", "beside", "plan", "drawing", "what-if", "more"];

document.documentElement.classList.add("scripted");
for (const key of document.querySelectorAll(".with-script")) key.hidden = false;
for (const key of document.querySelectorAll(".without-script")) key.hidden = true;

// ---- Handles: the answer follows while one moves; the address when it is let go.

function figureOf(slide) {
  const { places, unit, factor } = slide.dataset;
  const shown = (Number(slide.value) * Number(factor)).toFixed(Number(places));
  return unit && unit !== "°" ? `${shown}\u00a0${unit}` : shown + (unit ?? "");
}

function showFigure(slide) {
  const shown = figureOf(slide);
  slide.setAttribute("aria-valuetext", shown);
  const output = slide.closest(".handle").querySelector("output");
  if (output) output.textContent = shown;
}

function queryOf(form) {
  const query = new URLSearchParams();
  for (const [name, value] of new FormData(form)) {
    if (name.startsWith("stood.") || value === "") continue;
    const stood = form.querySelector(`input[name="stood.${name}"]`);
    if (stood && stood.value === value && !form.elements[name]?.hasAttribute?.("data-touched")) continue;
    query.append(name, value);
  }
  return query;
}

const addressOf = (form, query) => form.getAttribute("action") + (query.size ? `?${query}` : "");

let asked = 0;
let running = null;

async function ask(address, ids) {
  const mine = ++asked;
  running?.abort();
  running = new AbortController();
  const slow = setTimeout(() => document.body.classList.add("busy"), 250);
  try {
    const response = await fetch(address, { signal: running.signal, headers: { "x-in-place": "1" } });
    const text = await response.text();
    if (mine !== asked) return false;
    const made = new DOMParser().parseFromString(text, "text/html");
    let any = false;
    for (const id of ids) {
      const [now, next] = [document.getElementById(id), made.getElementById(id)];
      if (!now || !next) continue;
      const focused = focusables(now).indexOf(document.activeElement);
      const opened = new Set([...now.querySelectorAll("details[open] > summary")].map((summary) => summary.textContent));
      now.replaceChildren(...next.childNodes);
      for (const summary of now.querySelectorAll("details > summary")) {
        if (opened.has(summary.textContent)) summary.parentElement.open = true;
      }
      // Whoever is at the keyboard stays where they were.
      if (focused >= 0) focusables(now)[focused]?.focus({ preventScroll: true });
      any = true;
    }
    const title = made.querySelector("title");
    if (title && any) document.title = title.textContent;
    if (any) agree(made, ids);
    wake(document);
    return any;
  } catch (fault) {
    if (fault.name !== "AbortError") tell("The connection to rearline is gone. What you see is the last answer.");
    return false;
  } finally {
    clearTimeout(slow);
    if (mine === asked) document.body.classList.remove("busy");
  }
}

// The page stands where its files stood: all of it where all was made anew, otherwise as far as its sheet is the same.
function agree(made, ids) {
  const next = made.querySelector('meta[name="stands"]')?.content;
  if (!next || !ids.includes("more")) return;
  const same = stands.content.split(" ")[0] === next.split(" ")[0];
  if (!same && !ids.includes("handles")) return;
  stands.content = next;
  stands.dataset.from = made.querySelector('meta[name="stands"]').dataset.from;
  note("stale", "");
}

const focusables = (within) => [...within.querySelectorAll("a[href], button, input, select, summary, [tabindex]")];

function tell(text) {
  let note = document.getElementById("told");
  if (!note) {
    note = document.createElement("p");
    note.id = "told";
    note.className = "caution";
    note.setAttribute("role", "alert");
    document.querySelector("main")?.prepend(note);
  }
  note.textContent = text;
}

// Every picture comes for a wide and for a narrow screen; while a handle moves only the one that is seen is asked for.
function screensSeen() {
  const seen = (form) => [...document.querySelectorAll(`#drawing .${form}`)].some((picture) => picture.checkVisibility());
  const [wide, narrow] = [seen("for-wide"), seen("for-narrow")];
  if (wide === narrow) return null;
  return narrow ? "narrow" : "wide";
}

function moved(form) {
  const query = queryOf(form);
  query.set("part", "1");
  const screens = screensSeen();
  if (screens) query.set("pictures", screens);
  return ask(addressOf(form, query), MOVING);
}

function settled(form, ids = SETTLED) {
  const address = addressOf(form, queryOf(form));
  if (address !== location.pathname + location.search) history.pushState({}, "", address);
  shown = address;
  return ask(address, ids);
}

let waiting = 0;
document.addEventListener("input", (event) => {
  const form = event.target.closest("form[data-live]");
  if (!form) return;
  if (event.target.type === "range") {
    event.target.setAttribute("data-touched", "");
    showFigure(event.target);
  }
  labelDrawer();
  clearTimeout(waiting);
  moved(form);
  waiting = setTimeout(() => settled(form), 500);
});
document.addEventListener("change", (event) => {
  const form = event.target.closest("form[data-live]");
  if (!form) return;
  clearTimeout(waiting);
  if (event.target.name === "surface") letGripFollow(form);
  else waiting = setTimeout(() => settled(form), 60);
});
document.addEventListener("submit", (event) => {
  const form = event.target.closest("form[data-live]");
  if (!form) return;
  event.preventDefault();
  settled(form);
});

// What takes some seconds says so until it is there; whoever goes elsewhere calls it off.
document.addEventListener("click", (event) => {
  const key = event.target.closest("a[data-waits-for]");
  if (!key || event.ctrlKey || event.metaKey || event.shiftKey || event.button !== 0) return;
  tell(`${key.textContent.trim()}: being computed. It takes some seconds.`);
  document.body.classList.add("busy");
});
addEventListener("pageshow", (event) => {
  if (!event.persisted) return;
  document.getElementById("told")?.remove();
  document.body.classList.remove("busy");
});

// Another part is tried as soon as it is chosen.
document.addEventListener("change", (event) => event.target.closest("form[data-tries]")?.requestSubmit());

// Another ground has a grip of its own: one that was moved belonged to the last.
function letGripFollow(form) {
  const grip = form.elements.grip;
  if (grip?.hasAttribute) {
    grip.removeAttribute("data-touched");
    const stood = form.querySelector('input[name="stood.grip"]') ?? form.appendChild(document.createElement("input"));
    Object.assign(stood, { type: "hidden", name: "stood.grip", value: grip.value });
  }
  settled(form, ["handles", ...SETTLED]);
}

document.addEventListener("click", (event) => {
  const nudge = event.target.closest("[data-nudge]");
  if (nudge) {
    const slide = document.getElementById(nudge.dataset.of);
    const next = Number(slide.value) + Number(nudge.dataset.nudge);
    slide.value = String(Math.min(Number(slide.max), Math.max(Number(slide.min), Number(next.toFixed(6)))));
    slide.dispatchEvent(new Event("input", { bubbles: true }));
    slide.dispatchEvent(new Event("change", { bubbles: true }));
  }
  if (event.target.closest("[data-print]")) print();
});

// A link within the page comes here too: it changes nothing that was asked.
let shown = location.pathname + location.search;
addEventListener("popstate", () => {
  const address = location.pathname + location.search;
  if (address === shown) return;
  shown = address;
  ask(address, ["handles", ...SETTLED]);
});

// ---- Workings unfold in their place.

async function unfold(details) {
  if (details.dataset.unfolded) return;
  details.dataset.unfolded = "1";
  try {
    const response = await fetch(details.dataset.from, { headers: { "x-in-place": "1" } });
    if (!response.ok) throw new Error(response.statusText);
    const made = new DOMParser().parseFromString(await response.text(), "text/html");
    const summary = details.querySelector("summary");
    // The summary stays in its place: taken out and put back it would lose the keyboard's focus.
    while (summary.nextSibling) summary.nextSibling.remove();
    details.append(...made.body.childNodes);
  } catch {
    delete details.dataset.unfolded; // the link in it still leads there
  }
}

// ---- The answer in a line at the top, once it has left the screen.

const seenAnswer = new IntersectionObserver(([seen]) => {
  document.documentElement.classList.toggle("past", seen.intersectionRatio < 1 && seen.boundingClientRect.top < 0);
}, { threshold: [0, 1] });

function glance() {
  const stamp = document.querySelector("#answer .stamp");
  if (!stamp) {
    document.getElementById("glance")?.remove();
    return;
  }
  // The answer itself is read out when it changes; this line is for the eye alone.
  const line = document.getElementById("glance") ?? document.body.appendChild(Object.assign(document.createElement("div"), { id: "glance", className: "glance", ariaHidden: "true" }));
  const because = Object.assign(document.createElement("span"), { className: "because", textContent: document.querySelector("#answer .sentence")?.textContent ?? "" });
  const figures = [...document.querySelectorAll("#answer .figure strong")].map((figure) => figure.cloneNode(true));
  line.replaceChildren(stamp.cloneNode(true), because, ...figures);
  seenAnswer.disconnect();
  seenAnswer.observe(stamp);
}

// ---- On a phone the handles lie in a drawer, closed until they are wanted; what they say stands on it.

const phone = matchMedia("(max-width: 37.49em)");

function fitDrawer() {
  const drawer = document.getElementById("drawer");
  if (drawer) drawer.open = !phone.matches;
}
phone.addEventListener("change", fitDrawer);

function labelDrawer() {
  const now = document.querySelector("#drawer > summary .now");
  if (!now) return;
  const said = [...document.querySelectorAll("#drawer .handle")].map((handle) => handle.querySelector("output")?.textContent ?? handle.querySelector("select")?.value);
  now.textContent = said.filter(Boolean).slice(0, 4).join(" · ");
}

// ---- What a link means is seen: folds around it, and itself, are open.

function openTarget() {
  const target = location.hash.length > 1 && document.getElementById(decodeURIComponent(location.hash.slice(1)));
  if (!target) return;
  for (let at = target.closest("details"); at; at = at.parentElement?.closest("details")) at.open = true;
  if (target.id !== "index") target.scrollIntoView();
}
addEventListener("hashchange", openTarget);

function wake(within) {
  glance();
  labelDrawer();
  for (const key of within.querySelectorAll(".with-script[hidden]")) key.hidden = false;
  for (const key of within.querySelectorAll(".without-script:not([hidden])")) key.hidden = true;
  for (const box of within.querySelectorAll("[data-player]")) player(box);
  for (const select of within.querySelectorAll("[data-kinds]")) fitKind(select);
  const round = within.querySelector("[data-round]");
  if (round) showJoint(shownJoint ?? Number(round.dataset.round));
  for (const details of within.querySelectorAll("details[data-from]")) {
    if (details.dataset.awake) continue;
    details.dataset.awake = "1";
    details.addEventListener("toggle", () => details.open && unfold(details));
    if (details.open) unfold(details);
  }
}
// ---- The turn, played: a car moved over the tracks, its standing wheels marked; or moved by hand along the time.

const SVG = "http://www.w3.org/2000/svg";
let playing = 0;

class Run {
  constructor(group) {
    this.group = group;
    this.times = group.dataset.times.split(" ").map(Number);
    this.speeds = group.dataset.speeds.split(" ").map(Number);
    this.poses = group.dataset.poses.split(";").map((pose) => {
      const parts = pose.split(" ");
      return { wheels: parts.slice(0, 4).map((pair) => pair.split(",").map(Number)), stands: Number(parts[4]) };
    });
    const made = (name, classes, attributes) => {
      const element = document.createElementNS(SVG, name);
      element.setAttribute("class", classes);
      for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, value);
      return group.appendChild(element);
    };
    group.replaceChildren();
    this.body = made("path", "shape body", { fill: "#ffffff", "fill-opacity": "0.8", stroke: "#1d2328", "stroke-width": "2.4" });
    this.nose = made("path", "mark nose", { fill: "#1d2328" });
    this.wheels = [0, 1, 2, 3].map((wheel) =>
      made("line", wheel < 2 ? "line front" : "line rear", { stroke: wheel < 2 ? "#16264a" : "#8a4510", "stroke-linecap": "butt" }),
    );
  }

  at(time) {
    let index = this.times.findIndex((known) => known >= time - 1e-9);
    if (index < 0) index = this.times.length - 1;
    const before = Math.max(0, index - 1);
    const [early, late] = [this.times[before], this.times[index]];
    const share = late > early ? Math.min(1, Math.max(0, (time - early) / (late - early))) : 1;
    const between = (a, b) => a + (b - a) * share;
    const wheels = this.poses[index].wheels.map((wheel, which) => {
      const from = this.poses[before].wheels[which];
      return [between(from[0], wheel[0]), between(from[1], wheel[1])];
    });
    const [fl, fr, rl, rr] = wheels;
    const path = (points) => `M${points.map((point) => point.map((n) => n.toFixed(1)).join(" ")).join("L")}Z`;
    const mix = (a, b, part) => [a[0] + (b[0] - a[0]) * part, a[1] + (b[1] - a[1]) * part];
    this.body.setAttribute("d", path([fl, fr, rr, rl]));
    const behind = (part) => mix(mix(fl, fr, part), mix(rl, rr, part), 0.25);
    this.nose.setAttribute("d", path([behind(0.25), behind(0.75), mix(fl, fr, 0.5)]));
    const along = [(fl[0] - rl[0]) * 0.12, (fl[1] - rl[1]) * 0.12];
    for (const [which, line] of this.wheels.entries()) {
      const [x, y] = wheels[which];
      const stands = this.poses[index].stands & (1 << which);
      line.setAttribute("x1", (x - along[0]).toFixed(1));
      line.setAttribute("y1", (y - along[1]).toFixed(1));
      line.setAttribute("x2", (x + along[0]).toFixed(1));
      line.setAttribute("y2", (y + along[1]).toFixed(1));
      line.setAttribute("stroke-width", stands ? "8" : "3");
    }
    return { stands: this.poses[index].stands, speed: this.speeds[index] };
  }
}

const NAMES = ["front left", "front right", "rear left", "rear right"];

function player(box) {
  if (box.dataset.ready) return;
  box.dataset.ready = "1";
  const drawn = document.getElementById(box.dataset.player);
  const runs = [...(drawn?.querySelectorAll("g.moving") ?? [])].map((group) => new Run(group));
  const slide = box.querySelector("input");
  const output = box.querySelector("output");
  const key = box.querySelector("[data-play]");
  if (runs.length) slide.max = Math.max(...runs.flatMap((run) => run.times)).toFixed(2);
  const show = () => {
    const time = Number(slide.value);
    const states = runs.map((run) => run.at(time));
    const said = [`${time.toFixed(1)}\u00a0s`];
    if (states.length) said.push(`${states[0].speed}\u00a0km/h`);
    output.textContent = said.join(", ");
    const standing = states.length ? NAMES.filter((_, wheel) => states[0].stands & (1 << wheel)) : [];
    slide.setAttribute("aria-valuetext", `${said.join(", ")}, ${standing.length ? `${standing.join(" and ")} locked` : "all wheels roll"}`);
  };
  const stop = () => {
    cancelAnimationFrame(playing);
    playing = 0;
    key.textContent = "Play";
    key.setAttribute("aria-pressed", "false");
  };
  const play = () => {
    if (Number(slide.value) >= Number(slide.max) - 0.01) slide.value = "0";
    const began = performance.now() - Number(slide.value) * 1000;
    key.textContent = "Halt";
    key.setAttribute("aria-pressed", "true");
    const calm = matchMedia("(prefers-reduced-motion: reduce)").matches;
    let last = -1;
    const step = (now) => {
      if (!box.isConnected) return;
      let time = Math.min((now - began) / 1000, Number(slide.max));
      if (calm) time = Math.floor(time * 2) / 2; // a step every half second, nothing that glides
      if (time !== last) {
        slide.value = String(time);
        show();
        last = time;
      }
      if ((now - began) / 1000 >= Number(slide.max)) stop();
      else playing = requestAnimationFrame(step);
    };
    playing = requestAnimationFrame(step);
  };
  slide.addEventListener("input", () => {
    if (playing) stop();
    show();
  });
  key.addEventListener("click", () => (playing ? stop() : play()));
  show();
}

// ---- What is written down: kept on this device until it is on the disk there, and written once however often it is sent.
// An entry leaves the store when the answer says that it is written, or when a person has read why not and throws it
// away. Nothing else takes it out. Each has a name of its own in the store, so that two pages cannot undo each other.

const ENTRY = "rearline-entry-";
const ENTRIES_OF_OLD = "rearline-not-yet-written";
const NO_ANSWER = "rearline does not answer.";
// Entries that this device cannot keep live as long as this page.
const loose = new Map();

function stored() {
  try {
    return Object.keys(localStorage)
      .filter((name) => name.startsWith(ENTRY))
      .map((name) => [name, read(localStorage.getItem(name))]);
  } catch {
    return [];
  }
}

function read(text) {
  try {
    const entry = JSON.parse(text);
    if (entry?.action && entry.fields) return entry;
  } catch {
    // Shown as it is: whoever made it may make sense of it.
  }
  return { says: String(text), why: "It cannot be read any more.", refused: true };
}

const kept = () => [...stored().filter(([name]) => !loose.has(name)), ...loose].sort(([a], [b]) => (a < b ? -1 : 1));
const isKept = (name) => loose.has(name) || kept().some(([other]) => other === name);

// Why it could not be kept; nothing where it is.
function keep(name, entry) {
  try {
    localStorage.setItem(name, JSON.stringify(entry));
    loose.delete(name);
    return "";
  } catch (fault) {
    loose.set(name, entry);
    return fault.name === "QuotaExceededError" ? "the store of this browser is full" : "this browser may not store anything";
  }
}

function drop(name) {
  loose.delete(name);
  try {
    localStorage.removeItem(name);
  } catch {
    // It was never in there.
  }
}

// Secure contexts alone have randomUUID; a workshop's network is none.
const newId = () => [...crypto.getRandomValues(new Uint8Array(12))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
let named = 0;
const newName = (id) => `${ENTRY}${String(Date.now()).padStart(14, "0")}-${String((named += 1)).padStart(4, "0")}-${id}`;

// Entries as the page kept them before each had a name.
function takeOver() {
  try {
    const old = JSON.parse(localStorage.getItem(ENTRIES_OF_OLD) ?? "[]");
    if (old.every((entry) => keep(newName(entry.fields.entry), entry) === "")) localStorage.removeItem(ENTRIES_OF_OLD);
  } catch {
    // Left where it is.
  }
}

const carOf = (entry) => decodeURIComponent(entry.action?.split("/")[2] ?? "");

function saying(form, submitter) {
  const heading = form.closest("article, details.reading, section, li, .this")?.querySelector("h1, h2, h3, .step, summary, :scope > span")?.textContent;
  const said = form.querySelector("textarea")?.value || submitter?.getAttribute("aria-label") || submitter?.textContent;
  const typed = [...form.querySelectorAll("label > :is(input:not([type=radio]), select), .value input")].map((field) => field.value).filter(Boolean).join(", ");
  return [heading, typed, said].map((text) => (text ?? "").replace(/\s+/g, " ").trim()).filter(Boolean).join(": ");
}

let shownKept = "";

function showKept() {
  const all = kept().filter(([name]) => !underWay.has(name));
  const now = JSON.stringify([all.map(([name, { why, refused }]) => [name, why, refused, loose.has(name)])]);
  if (now === shownKept && (all.length === 0) === !document.getElementById("kept")) return;
  shownKept = now;
  let box = document.getElementById("kept");
  if (!all.length) {
    box?.remove();
    return;
  }
  const element = (tag, text, more = {}) => Object.assign(document.createElement(tag), { textContent: text, ...more });
  if (!box) {
    box = element("section", "", { id: "kept", className: "caution" });
    box.setAttribute("aria-label", "Not yet written");
    document.querySelector("main")?.prepend(box);
  }
  const words = all.length === 1 ? "One entry is not yet written." : `${all.length} entries are not yet written.`;
  const held = all.some(([name]) => loose.has(name))
    ? "This browser cannot keep them: leave this page open until they are written."
    : "They are kept on this device until they are.";
  const head = element("p", "");
  head.setAttribute("role", "status");
  head.append(element("strong", words), ` ${held}`);
  const list = element("ul", "");
  for (const [name, entry] of all) {
    const line = element("li", "");
    const at = entry.at ? `, at ${new Date(entry.at).toLocaleTimeString([], { hour: "2-digit", minute: "2-digit" })}` : "";
    line.append(element("p", `${carOf(entry)}: ${entry.says ?? entry.fields?.found ?? "an entry"}${at}`));
    const why = element("p", `Why: ${entry.why ?? NO_ANSWER}`, { className: "why" });
    if (entry.way) why.append(" ", element("a", entry.way[0], { href: entry.way[1] }));
    line.append(why);
    const keys = element("div", "", { className: "keys" });
    if (entry.refused && entry.action) {
      const again = element("button", "Try it again", { type: "button" });
      again.dataset.again = name;
      keys.append(again);
    }
    const away = element("details", "");
    const sure = element("button", "Yes, throw it away", { type: "button" });
    sure.dataset.discard = name;
    away.append(element("summary", "Throw it away"), element("p", "It is written nowhere else."), sure);
    keys.append(away);
    line.append(keys);
    list.append(line);
  }
  const what = element("details", "", { open: all.length < 3 || all.some(([, { refused }]) => refused) });
  what.append(element("summary", "What waits, and why"), list);
  const send = element("button", "Send now", { type: "button" });
  send.dataset.send = "";
  box.replaceChildren(head, what, send);
}

document.addEventListener("click", (event) => {
  const { discard, again, undo: undone } = event.target.dataset;
  if (undone) undo(undone);
  if (discard) drop(discard);
  if (again) {
    const entry = kept().find(([name]) => name === again)?.[1];
    if (entry) keep(again, { ...entry, refused: false });
  }
  if (discard || again || event.target.matches("[data-send]")) {
    if (discard) showKept();
    sendKept();
  }
});

addEventListener("beforeunload", (event) => {
  if (loose.size) event.preventDefault();
});
addEventListener("storage", () => showKept());

let token = document.querySelector('meta[name="token"]')?.content ?? "";

// Another run of rearline has other tokens; without one this device is not let in.
async function freshToken() {
  const response = await fetch("/preferences", { signal: AbortSignal.timeout(PATIENCE) });
  const fresh = new DOMParser().parseFromString(await response.text(), "text/html").querySelector('meta[name="token"]')?.content;
  if (!fresh) return false;
  token = fresh;
  for (const field of document.querySelectorAll('input[name="token"]')) field.value = fresh;
  return true;
}

const PATIENCE = 40000;

// What came of it: written, or what keeps it from being so.
async function sendOne(entry) {
  const send = () => {
    const body = new URLSearchParams(entry.fields);
    body.set("token", token);
    return fetch(entry.action, { method: "POST", body, headers: { "x-in-place": "1" }, signal: AbortSignal.timeout(PATIENCE) });
  };
  let response = await send();
  if (response.status === 401 || response.status === 403) {
    if (!(await freshToken())) return { why: "This device is not let in.", way: ["Type the code", "/pair"] };
    response = await send();
  }
  if (response.ok) return { onward: response.headers.get("x-onward"), written: (await response.text()).split(" ").filter((id) => /^[0-9]+$/.test(id)) };
  const page = new DOMParser().parseFromString(await response.text(), "text/html");
  const reasons = [...page.querySelectorAll(".wrong p, main p:not(.keys)")].map((reason) => reason.textContent.trim().replace(/[^.?!:]$/, "$&."));
  const why = reasons.join(" ") || `The answer was ${response.status}.`;
  // What is wrong with the entry itself stays wrong; everything else passes.
  return { why, refused: [400, 409, 413, 415, 422].includes(response.status) };
}

// What this page has written, for whoever takes it back at once.
const done = new Map();
const UNDO = 10000;
let undoUntil = 0;

function offerUndo(name) {
  const entry = done.get(name);
  if (!entry?.ids.length) return;
  note("undo", `${entry.says}: written.`, ["Undo", "undo", name]);
  clearTimeout(undoUntil);
  undoUntil = setTimeout(() => note("undo", ""), UNDO);
}

// An entry is not taken out of a logbook: another strikes it.
function undo(name) {
  note("undo", "");
  const { action, ids, says } = done.get(name);
  done.delete(name);
  for (const id of ids) {
    const entry = newId();
    const fields = { what: "strike", id, why: "pressed by mistake", entry };
    keep(newName(entry), { action: action.replace(/[^/]*$/, "logbook"), fields, says: `Undo ${says}`, at: Date.now() });
  }
  sendKept();
}

const underWay = new Set();
let sending = null;
let onceMore = false;
let later = 0;

// Sends what waits; whoever asks meanwhile waits for the same, and for what was added since.
function sendKept() {
  onceMore = true;
  sending ??= (async () => {
    clearTimeout(later);
    let written = 0;
    while (onceMore) {
      onceMore = false;
      written += await sendAll();
    }
    showKept();
    if (kept().some(([, { refused }]) => !refused)) later = setTimeout(sendKept, 2000);
    return written;
  })().finally(() => {
    sending = null;
  });
  return sending;
}

async function sendAll() {
  let written = 0;
  // What waits at one car does not hold up another; at the same car the order is kept.
  const held = new Set();
  for (const [name, entry] of kept()) {
    if (entry.refused || held.has(entry.action.split("/")[2]) || !isKept(name)) continue;
    let outcome;
    try {
      outcome = await sendOne(entry);
    } catch {
      outcome = { why: NO_ANSWER, none: true };
    }
    underWay.delete(name);
    if (outcome.written) {
      drop(name);
      done.set(name, { ...entry, ids: outcome.written, onward: outcome.onward });
      written += outcome.onward ? 0 : 1;
      continue;
    }
    const { why, way, refused } = outcome;
    if (isKept(name)) keep(name, { ...entry, why, way, refused });
    if (!refused) held.add(entry.action.split("/")[2]);
    if (outcome.none) break;
  }
  for (const [name] of kept()) if (!onceMore) underWay.delete(name);
  showKept();
  // Several may have been written: the page shows where it stands now.
  if (written) await ask(location.pathname + location.search, ["index", "answer", "beside", "plan", "drawing", "what-if", "more"]);
  return written;
}
addEventListener("online", sendKept);

document.addEventListener("submit", async (event) => {
  const form = event.target.closest("form[data-writes]");
  if (!form) return;
  event.preventDefault();
  document.getElementById("told")?.remove();
  const figure = form.matches(".figure-form") && !event.submitter?.hasAttribute("formnovalidate");
  // What was said of an earlier text keeps nothing back.
  if (figure && form.querySelector("#said:not([data-stale]) .wrong-here")) {
    form.querySelector("#figure").focus();
    return;
  }
  const data = new FormData(form, event.submitter ?? undefined);
  const id = newId();
  data.set("entry", id);
  const fields = Object.fromEntries(data);
  delete fields.token;
  const name = newName(id);
  underWay.add(name);
  const entry = { action: form.getAttribute("action"), fields, says: saying(form, event.submitter), at: Date.now() };
  const cannot = keep(name, entry);
  const note = form.querySelector(".sending");
  const waits = `${event.submitter?.textContent.trim() ?? "It"}: not yet written …`;
  if (note) note.textContent = cannot ? `${waits} It cannot be kept here: ${cannot}. Leave this page open until it is written.` : waits;
  const joint = form.closest(".joint");
  if (joint) joint.classList.add("waiting");
  await sendKept();
  const onward = done.get(name)?.onward;
  if (onward) {
    location.assign(onward);
    return;
  }
  const waiting = kept().find(([other]) => other === name)?.[1];
  const said = form.querySelector("#said");
  if (waiting?.refused && said) {
    // Whoever typed it sees why beside the figure, where it can be put right.
    drop(name);
    showKept();
    said.replaceChildren(Object.assign(document.createElement("div"), { className: "wrong-here", textContent: waiting.why, role: "alert" }));
    if (note) note.textContent = "";
    return;
  }
  if (waiting?.refused) {
    joint?.classList.remove("waiting");
    if (note?.isConnected) note.textContent = "That was not written. The reason is at the top.";
    document.getElementById("kept")?.scrollIntoView({ block: "nearest" });
  }
  if (!waiting && form.closest(".round")) offerUndo(name);
  // A joint that is done, or that waits for the connection, makes room for the next.
  if (joint && (waiting ? !waiting.refused && fields.found !== "weep" : fields.found === "dry")) step(1);
});

// ---- A file on its way: how far it is, and why it did not arrive. It stays on the device either way.

document.addEventListener("submit", (event) => {
  const form = event.target.closest("form[data-sends]");
  if (!form) return;
  event.preventDefault();
  const note = form.querySelector(".sending");
  const key = form.querySelector("button");
  const data = new FormData();
  // The token goes first: without it the rest is not read.
  data.set("token", form.elements.token.value);
  data.set("file", form.elements.file.files[0]);
  const sending = new XMLHttpRequest();
  const done = (text) => {
    key.disabled = false;
    note.textContent = text;
  };
  sending.upload.addEventListener("progress", ({ loaded, total }) => {
    note.textContent = loaded < total ? `sending: ${Math.floor((100 * loaded) / total)}\u00a0%` : "sent; it is being kept …";
  });
  sending.addEventListener("error", () => done("It was not sent: the connection to rearline is gone. The file is still on this device."));
  sending.addEventListener("load", () => {
    if (sending.status === 200) {
      location.assign(sending.responseText);
      return;
    }
    const page = new DOMParser().parseFromString(sending.responseText, "text/html");
    done(`It was not kept: ${page.body.textContent.replaceAll(/\s+/g, " ").trim()}`);
  });
  sending.open("POST", form.getAttribute("action"));
  sending.setRequestHeader("x-in-place", "1");
  key.disabled = true;
  note.textContent = "sending …";
  sending.send(data);
});

// ---- The files on the disk: a page whose sheet or logbook has changed says so, and offers the new state.

const EVERY = 1000;
const stands = document.querySelector('meta[name="stands"]');
let missed = 0;

function note(id, text, key) {
  let box = document.getElementById(id);
  if (!text) {
    box?.remove();
    return;
  }
  if (box?.dataset.text === text) return;
  // At the foot of the screen: nothing moves under a hand.
  box ??= document.body.appendChild(Object.assign(document.createElement("section"), { id, className: "tray" }));
  box.dataset.text = text;
  box.setAttribute("aria-label", "News");
  const words = Object.assign(document.createElement("p"), { textContent: text });
  words.setAttribute("role", "status");
  box.replaceChildren(words);
  if (key) {
    const [words, name, value] = key;
    const button = Object.assign(document.createElement("button"), { type: "button", textContent: words });
    button.dataset[name] = value;
    box.append(button);
  }
  // Whatever has the focus is not left under it.
  const focused = document.activeElement;
  const covered = focused !== document.body && focused.getBoundingClientRect().bottom > box.getBoundingClientRect().top;
  if (covered && !box.contains(focused)) focused.scrollIntoView({ block: "nearest" });
}

function showStale(now) {
  const [sheet, logbook] = stands.content.split(" ");
  const [sheetNow, logbookNow] = now.split(" ");
  const what = [sheet !== sheetNow && (logbook ? "sheet" : "cars"), logbook !== logbookNow && "logbook"].filter(Boolean);
  const have = what.length > 1 || what[0] === "cars" ? "have" : "has";
  note("stale", what.length ? `The ${what.join(" and the ")} ${have} changed on the disk. This page shows how it was before.` : "", ["Show the new state", "renew", ""]);
}

async function look() {
  if (document.hidden) return;
  const before = stands.content;
  try {
    const response = await fetch(stands.dataset.from, { signal: AbortSignal.timeout(5000) });
    const now = await response.text();
    missed = 0;
    note("gone", "");
    // What this page itself changes it shows by itself.
    if (response.ok && !sending && stands.content === before) showStale(now);
  } catch {
    missed += 1;
    if (missed > 2) note("gone", `${NO_ANSWER} What you see is from before.`);
  }
}

async function keepLooking() {
  await look();
  setTimeout(keepLooking, EVERY);
}

document.addEventListener("click", async (event) => {
  if (!event.target.matches("[data-renew]")) return;
  const inPlace = document.getElementById("answer") && (await ask(location.pathname + location.search, ["handles", ...SETTLED]));
  // A sheet that does not read any more has another page.
  if (!inPlace && !missed) location.reload();
});

if (stands) {
  setTimeout(keepLooking, EVERY);
  document.addEventListener("visibilitychange", look);
}

// ---- The list: rows that wait for their answer are filled in where they stand.

const FILLS = 700;
const COUNTS = 5000;

async function fillIn() {
  const waiting = [...document.querySelectorAll(".one-car[data-waits]")];
  const count = document.getElementById("unanswered");
  if (!waiting.length && !count?.textContent) return;
  try {
    if (!document.hidden) {
      const keys = waiting.map((row) => row.dataset.waits).join(".");
      const response = await fetch(`/rows?cars=${keys}`, { signal: AbortSignal.timeout(20000) });
      const made = new DOMParser().parseFromString(await response.text(), "text/html");
      for (const row of response.ok ? waiting : []) {
        const next = made.getElementById(row.id);
        if (!next || next.dataset.waits) continue;
        const focused = focusables(row).indexOf(document.activeElement);
        row.replaceWith(next);
        if (focused >= 0) focusables(next)[focused]?.focus({ preventScroll: true });
      }
      const now = made.getElementById("unanswered");
      if (count && now && count.textContent !== now.textContent) count.textContent = now.textContent;
    }
  } catch {
    // That nothing answers is said at the foot of the page.
  }
  setTimeout(fillIn, document.querySelector(".one-car[data-waits]") ? FILLS : COUNTS);
}
fillIn();

// ---- What is made aside: how far it is, and the answer with it once it is made.

const HOW_FAR = 1000;

const isTyped = (field) => field.type !== "hidden" && "defaultValue" in field && field.value !== field.defaultValue;

async function lookHowFar() {
  const here = document.getElementById("under-way");
  if (here && !document.hidden) {
    try {
      const response = await fetch(here.dataset.far, { signal: AbortSignal.timeout(5000) });
      const said = response.ok ? await response.text() : "";
      const share = Number(said || NaN);
      if (share >= 0) {
        here.querySelector("progress").value = share;
        here.querySelector("output").textContent = `${Math.round(share * 100)}\u00a0%`;
      } else if (said && ![...document.querySelectorAll("#more input, #more textarea")].some(isTyped)) {
        // What somebody is typing is not taken from under their hands: they look again by the key.
        await ask(location.pathname + location.search, SETTLED);
      }
    } catch {
      // That nothing answers is said at the foot of the page.
    }
  }
  setTimeout(lookHowFar, HOW_FAR);
}
lookHowFar();

// ---- The round: one joint at a time.

let shownJoint = null;

function joints() {
  return [...document.querySelectorAll(".round .joint")];
}

function showJoint(index, focus = false) {
  const all = joints();
  if (!all.length) return;
  shownJoint = Math.min(all.length - 1, Math.max(0, index));
  for (const [which, joint] of all.entries()) joint.hidden = which !== shownJoint;
  for (const link of document.querySelectorAll(".states a")) {
    if (Number(link.dataset.joint) === shownJoint) link.setAttribute("aria-current", "true");
    else link.removeAttribute("aria-current");
  }
  if (focus) all[shownJoint].querySelector("h3").focus({ preventScroll: true });
}

function step(by) {
  showJoint(shownJoint + by, true);
}

document.addEventListener("click", (event) => {
  const key = event.target.closest("[data-step]");
  if (key) step(Number(key.dataset.step));
  const link = event.target.closest(".states a");
  if (link) {
    event.preventDefault();
    showJoint(Number(link.dataset.joint), true);
  }
});

// ---- The logbook: only the fields of a kind, only the entries that are looked for, wherever in the book they stand.

function fitKind(select) {
  for (const field of select.form.querySelectorAll("[data-for]")) {
    field.hidden = !field.dataset.for.split(" ").includes(select.value);
  }
}

// What is looked for stands in the address, as the form without script puts it there.
let lookLater = 0;

function lookFor(form) {
  const query = new URLSearchParams([...new FormData(form)].filter(([, value]) => value !== ""));
  const address = addressOf(form, query);
  history.replaceState({}, "", address);
  shown = address;
  ask(address, ["entries-shown"]);
}

document.addEventListener("submit", (event) => {
  const form = event.target.closest("form[data-entries]");
  if (!form) return;
  event.preventDefault();
  lookFor(form);
});

document.addEventListener("input", (event) => {
  if (event.target.matches("[data-kinds]")) fitKind(event.target);
  const entries = event.target.closest("form[data-entries]");
  if (!entries) return;
  clearTimeout(lookLater);
  lookLater = setTimeout(() => lookFor(entries), 250);
});

// ---- A figure by thumb: keys that put into its field; what it is read as while it is typed.

document.addEventListener("click", (event) => {
  const puts = event.target.closest("[data-puts]")?.dataset.puts;
  const field = document.getElementById("figure");
  if (!puts || !field) return;
  field.value = puts === "back" ? field.value.replace(/.$/u, "") : field.value + puts;
  field.dispatchEvent(new Event("input", { bubbles: true }));
});

let checking = null;
let checkLater = 0;

async function check() {
  const field = document.getElementById("figure");
  const query = new URLSearchParams(new FormData(field.form));
  for (const name of ["token", "entry", "seen"]) query.delete(name);
  checking?.abort();
  checking = new AbortController();
  try {
    const response = await fetch(`${field.dataset.check}?${query}`, { signal: checking.signal });
    if (!response.ok) return;
    const said = document.getElementById("said");
    said.innerHTML = await response.text();
    delete said.dataset.stale;
    field.setAttribute("aria-invalid", String(Boolean(said.querySelector(".wrong-here"))));
  } catch {
    // It is looked at again when it is kept.
  }
}

document.addEventListener("input", (event) => {
  if (!event.target.closest(".figure-form") || !document.getElementById("figure")) return;
  document.getElementById("said").dataset.stale = "";
  checking?.abort();
  clearTimeout(checkLater);
  checkLater = setTimeout(check, 120);
});

// Large keys stand on the page: a keyboard that covers them is not called up by a touch.
const touch = matchMedia("(pointer: coarse)");
const typedField = document.getElementById("figure");
if (typedField) {
  if (touch.matches && typedField.hasAttribute("data-pad")) typedField.inputMode = "none";
  if (typedField.value) check();
  // What stands there is typed over. The browser gives it the focus first.
  requestAnimationFrame(() => typedField.select());
}

// ---- The text of a sheet: what is typed and not kept stays in this browser; a file may be dropped.

const DRAFT = "draft of a sheet ";

function draftOf(form) {
  const area = form.querySelector("textarea");
  const name = DRAFT + form.dataset.draft;
  const drafted = localStorage.getItem(name);
  if (drafted !== null && drafted !== area.value && !form.parentElement.querySelector(".wrong")) {
    const box = Object.assign(document.createElement("p"), { className: "caution", textContent: "This browser holds a text of it that was not kept. " });
    const key = Object.assign(document.createElement("button"), { type: "button", textContent: "Show it" });
    key.addEventListener("click", () => {
      area.value = drafted;
      box.remove();
    });
    box.append(key);
    form.before(box);
  }
  area.addEventListener("input", () => {
    try {
      localStorage.setItem(name, area.value);
    } catch {
      // It cannot be kept here: the page itself still holds it.
    }
  });
  form.addEventListener("submit", () => {
    try {
      // Shown back by the answer where it does not read; gone where it was kept.
      sessionStorage.setItem(name, "sent");
    } catch {
      // As above.
    }
  });
  if (sessionStorage.getItem(name) === "sent") {
    sessionStorage.removeItem(name);
    if (!form.parentElement.querySelector(".wrong")) {
      localStorage.removeItem(name);
      form.parentElement.querySelector(".caution")?.remove();
    }
  }
}

async function bring(form, file) {
  if (!file) return;
  form.querySelector("textarea").value = await file.text();
  const name = form.querySelector("input[name=name]");
  if (name && !name.value) name.value = file.name.replace(/\.toml$/, "").replace(/^car$/, "");
}

for (const form of document.querySelectorAll("form[data-draft]")) draftOf(form);
for (const form of document.querySelectorAll("form[data-drop]")) {
  form.addEventListener("dragover", (event) => event.preventDefault());
  form.addEventListener("drop", (event) => {
    event.preventDefault();
    bring(form, event.dataTransfer.files[0]);
  });
  form.querySelector("[data-file]")?.addEventListener("change", (event) => bring(form, event.target.files[0]));
}

fitDrawer();
wake(document);
openTarget();
takeOver();
showKept();
if (kept().length) sendKept();
