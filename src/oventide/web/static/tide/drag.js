/* A handle of a chart as a slider: by pointer or touch, by keyboard, and beside it the box that holds the same figure.
   The chart is drawn on the server; here a handle is only moved, its box is filled, and the question asked again. */

const DAY = 1440;
const STEP = 5;

/* The handle's own kind of figure: a time of day, or minutes in the oven. */
const KINDS = {
  ready: {
    grid: STEP,
    text: (value) => {
      const minute = ((Math.round(value) % DAY) + DAY) % DAY;
      return `${String(Math.floor(minute / 60)).padStart(2, "0")}:${String(minute % 60).padStart(2, "0")}`;
    },
    said: (text) => text,
  },
  uncover: { grid: 1, text: (value) => String(Math.round(value)), said: (text) => `${text}\u202fmin` },
  minute: { grid: 1, text: (value) => String(Math.round(value)), said: (text) => `${text}\u202fmin` },
};

/* Place for a minute and minute for a place, straight between the knots and beyond them. */
export function scaleOf(text) {
  const knots = text.split(" ").map((knot) => knot.split(":").map(Number));
  const read = (from, to) => (value) => {
    let at = 1;
    while (at < knots.length - 1 && value > knots[at][from]) at += 1;
    const [low, high] = [knots[at - 1], knots[at]];
    return low[to] + ((high[to] - low[to]) * (value - low[from])) / (high[from] - low[from] || 1);
  };
  return { place: read(0, 1), minute: read(1, 0) };
}

/* A place on the screen in the drawing's own units, along the handle's axis. */
function placeOf(svg, event, axis) {
  const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
  return axis === "y" ? point.y : point.x;
}

/* Handles in hand, each with what lets go of it: the page's parts come anew after every answer. */
const held = new Map();
/* Which handle asked last, by chart and name, so that the keyboard stays on it. */
let lastAsked = "";

function hold(handle) {
  held.get(handle)?.letGo();
  const letting = new AbortController();
  const { signal } = letting;
  let later = 0;
  let grip = null;
  held.set(handle, { letGo: () => letting.abort(), isBusy: () => grip !== null || later !== 0 });
  const svg = handle.ownerSVGElement;
  const hand = handle.closest(".tc-hand");
  const { axis, knots, box } = handle.dataset;
  const kind = KINDS[handle.dataset.handle];
  const scale = scaleOf(knots);
  const origin = Number(handle.dataset.origin);
  const [low, high, first] = ["low", "high", "minute"].map((name) => Number(handle.dataset[name]));
  let now = first;

  const figure = document.getElementById(box);
  const words = handle.querySelector(".tc-said");
  const moves = handle.dataset.handle === "ready" ? svg.querySelector(".tc-moves") : null;

  function tell() {
    const text = kind.text(origin + now);
    handle.setAttribute("aria-valuenow", String(Math.round(now - first)));
    handle.setAttribute("aria-valuetext", kind.said(text));
    words.textContent = `${handle.getAttribute("aria-label")} ${kind.said(text)}`;
    return text;
  }

  function show() {
    const by = scale.place(now) - scale.place(first);
    const there = axis === "y" ? `translate(0 ${by})` : `translate(${by} 0)`;
    hand.setAttribute("transform", there);
    if (moves) moves.setAttribute("transform", there);
    tell();
  }

  function go(minute, grid) {
    const value = Math.round((origin + minute) / grid) * grid;
    now = Math.min(Math.max(value - origin, low), high);
    show();
  }

  function ask() {
    if (!figure || now === first) return;
    lastAsked = handle === document.activeElement ? handle.id : "";
    figure.value = tell();
    figure.form.dispatchEvent(new Event("change", { bubbles: true }));
  }

  function askSoon() {
    clearTimeout(later);
    later = setTimeout(() => {
      later = 0;
      ask();
    }, 350);
  }

  handle.setAttribute("role", "slider");
  handle.setAttribute("tabindex", "0");
  handle.setAttribute("aria-orientation", axis === "y" ? "vertical" : "horizontal");
  handle.setAttribute("aria-valuemin", String(Math.round(low - first)));
  handle.setAttribute("aria-valuemax", String(Math.round(high - first)));
  tell();

  // a finger on the handle moves the handle, not the page
  handle.addEventListener("touchstart", (event) => event.preventDefault(), { signal, passive: false });
  handle.addEventListener("pointerdown", (event) => {
    event.preventDefault();
    handle.setPointerCapture(event.pointerId);
    handle.classList.add("held");
    handle.focus({ preventScroll: true });
    grip = placeOf(svg, event, axis) - scale.place(now);
  }, { signal });
  handle.addEventListener("pointermove", (event) => {
    if (grip === null) return;
    go(scale.minute(placeOf(svg, event, axis) - grip), kind.grid);
  }, { signal });
  const letGo = () => {
    if (grip === null) return;
    grip = null;
    handle.classList.remove("held");
    ask();
  };
  handle.addEventListener("pointerup", letGo, { signal });
  handle.addEventListener("pointercancel", letGo, { signal });
  handle.addEventListener("keydown", (event) => {
    const down = axis === "y" ? -1 : 1;
    const by = {
      ArrowRight: 1, ArrowLeft: -1, ArrowUp: down, ArrowDown: -down, PageUp: 12, PageDown: -12,
    }[event.key];
    if (event.key === "Home" || event.key === "End") now = event.key === "Home" ? low : high;
    else if (by) {
      const size = event.shiftKey ? 1 : STEP;
      // from off the grid the first press goes to the grid
      go(now + by * size, Math.abs(by) > 1 ? STEP : size);
    } else return;
    event.preventDefault();
    show();
    askSoon();
  }, { signal });
}

/* While a handle is on its way no answer draws under it: the next one does. */
document.addEventListener("htmx:before:swap", (event) => {
  if ([...held.values()].some((each) => each.isBusy())) event.preventDefault();
});

export function takeHold(within) {
  for (const handle of held.keys()) if (!handle.isConnected) held.delete(handle);
  within.querySelectorAll(".tc-handle").forEach((handle) => {
    if (handle.getAttribute("role") === "slider") return;
    const here = handle === document.activeElement || handle.id === lastAsked;
    hold(handle);
    if (here) handle.focus({ preventScroll: true });
  });
}
