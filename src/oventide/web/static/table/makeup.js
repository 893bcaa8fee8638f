/* The make-up played with: sliders and handles write into the boxes, and the server draws. A handle is a slider of its
   own: it has a name and a value in words, the arrow keys move it, and the same slider stands beside its box. */

import { asker, renewAll } from "./renew.js";

const form = document.getElementById("makeup");
form.classList.add("scripted");

/* Which slider a handle on a drawing moves, what it sits on, and where: x and y as shares of that thing's box. */
const HANDLES = [
  { slide: "along", drawing: "sheet", on: ".ov-dough", x: 1, y: 0.5, way: 1, axis: "x" },
  { slide: "rolled", drawing: "sheet", on: ".ov-dough", x: 0.5, y: 0, way: -1, axis: "y" },
  { slide: "trim", drawing: "log", on: ".ov-dough", x: 0, y: 0.5, way: 1, axis: "x" },
  { slide: "pieces", drawing: "log", on: ".ov-cut", x: 0.5, y: 0, way: 0, axis: "x" },
  { slide: "tin2", drawing: "tin", on: ".ov-tin", x: 1, y: 0.5, way: 1, axis: "x" },
  { slide: "tin", drawing: "tin", on: ".ov-tin", x: 0.5, y: 1, way: 1, axis: "y" },
];
const REST_MS = 400;
const slider = (name) => document.getElementById(`slide-${name}`);

const live = asker(form, 30, (answer, text) => {
  if (!answer.ok) return;
  const doc = renewAll(text);
  for (const fresh of doc.querySelectorAll(".slide input")) {
    const here = document.getElementById(fresh.id);
    if (here && here !== moving && here !== document.activeElement) here.value = fresh.value;
  }
  place();
});
let moving = null;

function inWords(box) {
  return `${Number(box.value).toFixed(1).replace(/\.0$/, "")} ${box.dataset.unit}`.trim();
}

/* The text of a box from its sliders: "40 × 30 cm" has two. */
function write(box) {
  const all = [...form.querySelectorAll(`.slide input[data-writes="${box.dataset.writes}"]`)];
  const figures = all.map((each) => Number(each.value).toFixed(1).replace(/\.0$/, ""));
  const text = form.elements[box.dataset.writes];
  const unit = ["sheet", "tin", "depth"].includes(box.dataset.writes) ? " cm" : "";
  text.value = figures.join(" × ") + unit;
  box.setAttribute("aria-valuetext", inWords(box));
}

form.addEventListener("input", (event) => {
  if (event.target.matches(".slide input")) {
    clearTimeout(resting);
    moving = event.target;
    write(event.target);
  }
  live.soon();
});
/* A slider that rests is taken up as if its box had been left: then the boxes and the best placing follow too. */
let resting = 0;
function rest(box) {
  clearTimeout(resting);
  resting = setTimeout(() => {
    form.elements[box.dataset.writes].dispatchEvent(new Event("change", { bubbles: true }));
  }, REST_MS);
}
form.addEventListener("change", (event) => {
  moving = null;
  if (event.target.matches(".slide input")) {
    event.stopImmediatePropagation();
    rest(event.target);
  } else {
    live.stop();
  }
}, true);
form.addEventListener("submit", () => live.stop(), true);

function set(box, value) {
  const step = Number(box.step);
  const next = Math.min(Math.max(Math.round(value / step) * step, Number(box.min)), Number(box.max));
  box.value = next;
  box.dispatchEvent(new Event("input", { bubbles: true }));
}

function rename(handle, box) {
  for (const [name, value] of [["min", box.min], ["max", box.max], ["now", box.value], ["text", inWords(box)]]) {
    handle.setAttribute(`aria-value${name}`, value);
  }
  handle.setAttribute("aria-label", box.dataset.label);
}

function made(spec) {
  const handle = document.createElement("span");
  handle.className = `handle along-${spec.axis}`;
  handle.id = `handle-${spec.slide}`;
  handle.tabIndex = 0;
  handle.setAttribute("role", "slider");
  handle.setAttribute("aria-orientation", spec.axis === "x" ? "horizontal" : "vertical");
  handle.addEventListener("keydown", (event) => {
    const box = slider(spec.slide);
    const by = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 10, PageDown: -10 }[event.key];
    const to = { Home: box.min, End: box.max }[event.key];
    if (by === undefined && to === undefined) return;
    event.preventDefault();
    set(box, to === undefined ? Number(box.value) + by * Number(box.step) : Number(to));
    rename(handle, box);
  });
  handle.addEventListener("keyup", (event) => {
    if (/^(Arrow|Page|Home|End)/.test(event.key)) slider(spec.slide).dispatchEvent(new Event("change", { bubbles: true }));
  });
  handle.addEventListener("pointerdown", (event) => {
    const box = slider(spec.slide);
    const begin = { x: event.clientX, y: event.clientY, value: Number(box.value), pieces: Number(box.value) };
    const scale = pixelsOf(spec);
    handle.setPointerCapture(event.pointerId);
    event.preventDefault();
    handle.focus();
    const move = (to) => {
      const by = spec.axis === "x" ? to.clientX - begin.x : to.clientY - begin.y;
      // a cut that is pulled away from the end makes thicker pieces, so fewer of them
      const value = spec.way === 0 ? begin.pieces * scale / Math.max(scale + by, scale / 6) : begin.value + spec.way * by / scale;
      set(box, value);
      rename(handle, box);
    };
    const end = () => {
      handle.removeEventListener("pointermove", move);
      handle.removeEventListener("pointerup", end);
      handle.removeEventListener("pointercancel", end);
      box.dispatchEvent(new Event("change", { bubbles: true }));
    };
    handle.addEventListener("pointermove", move);
    handle.addEventListener("pointerup", end);
    handle.addEventListener("pointercancel", end);
  });
  return handle;
}

/* Pixels on the screen for one unit of the slider; for the pieces, pixels from the log's end to its first cut. */
function pixelsOf(spec) {
  const drawn = document.querySelector(`#drawn-${spec.drawing} svg`);
  const on = drawn.querySelector(spec.on).getBoundingClientRect();
  if (spec.way === 0) return Math.max(on.left - drawn.querySelector(".ov-dough").getBoundingClientRect().left, 4);
  const box = drawn.viewBox.baseVal;
  const cm = 10 * drawn.getBoundingClientRect().width / box.width;
  const real = Math.min(cm, 10 * drawn.getBoundingClientRect().height / box.height);
  return real;
}

function place() {
  for (const spec of HANDLES) {
    const figure = document.getElementById(`d-${spec.drawing}`);
    const on = figure?.querySelector(spec.on);
    let handle = document.getElementById(`handle-${spec.slide}`);
    const box = slider(spec.slide);
    if (!on || !box) { handle?.remove(); continue; }
    if (!handle) { handle = made(spec); figure.append(handle); }
    const frame = figure.getBoundingClientRect();
    const rect = on.getBoundingClientRect();
    handle.style.left = `${rect.left - frame.left + spec.x * rect.width}px`;
    handle.style.top = `${rect.top - frame.top + spec.y * rect.height}px`;
    rename(handle, box);
  }
}

document.addEventListener("htmx:after:swap", () => {
  for (const box of form.querySelectorAll(".slide input")) {
    if (box !== document.activeElement) box.value = box.getAttribute("value");
  }
  place();
});
new ResizeObserver(place).observe(form);
place();
