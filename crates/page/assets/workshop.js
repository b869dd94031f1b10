// What moves on the page. Without it every form is sent by its key and every working opens on its own page.

const narrow = matchMedia("(max-width: 37.49em)");
const MOVING = ["answer", "plan", "drawing"];
const SETTLED = ["state", "index", "answer", "plan", "drawing", "more"];

for (const key of document.querySelectorAll(".with-script")) key.hidden = false;
for (const key of document.querySelectorAll(".without-script")) key.hidden = true;

// ---- Handles: the answer follows while one moves; the address when it is let go.

function figureOf(slide) {
  const { places, unit, factor } = slide.dataset;
  const shown = (Number(slide.value) * Number(factor)).toFixed(Number(places));
  return unit ? `${shown}\u00a0${unit}` : shown;
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

function moved(form) {
  const query = queryOf(form);
  query.set("part", "1");
  query.set("pictures", narrow.matches ? "narrow" : "wide");
  return ask(addressOf(form, query), MOVING);
}

function settled(form, ids = SETTLED) {
  const address = addressOf(form, queryOf(form));
  if (address !== location.pathname + location.search) history.pushState({}, "", address);
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

addEventListener("popstate", () => ask(location.pathname + location.search, ["handles", ...SETTLED]));

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

function wake(within) {
  for (const key of within.querySelectorAll(".with-script[hidden]")) key.hidden = false;
  for (const key of within.querySelectorAll(".without-script:not([hidden])")) key.hidden = true;
  for (const details of within.querySelectorAll("details[data-from]")) {
    if (details.dataset.awake) continue;
    details.dataset.awake = "1";
    details.addEventListener("toggle", () => details.open && unfold(details));
    if (details.open) unfold(details);
  }
}
wake(document);
