/* The bakes under way: each with its step now, its window and the next one. It stays true by itself. */

import { begin } from "./begin.js";
import { countOn, dayOf, hhmm, instant } from "./clock.js";
import { Place, make } from "./make.js";
import { listen } from "./keys.js";
import { say } from "./say.js";
import { drawSign, signName } from "./signs.js";

const WORDS = {
  bench: () => say("Bench"), "under-way": () => say("Under way"), none: () => say("No bake is under way."), begin: () => say("Begin a bake"),
  formula: () => say("Formula"), kitchen: () => say("Kitchen"), "ready-by": () => say("Ready by"), name: () => say("Name, if it should have its own"),
  start: () => say("Begin"), shelf: () => say("To the evening table"), device: () => say("Device"), made: () => say("Bakes that were made"),
};

const here = await begin(JSON.parse(document.getElementById("views").textContent));
const { store, sync } = here;
const list = new Place(document.getElementById("bakes"));
const line = new Place(document.getElementById("notices"));
const clock = document.getElementById("clock");

function row(view, now) {
  const step = view.now_step === null ? null : view.steps[view.now_step];
  const next = step && view.steps[view.now_step + 1];
  const when = step && instant(step.ends.likely);
  return make("li", {}, make("a", { class: "bake-row", href: `/bench/${encodeURIComponent(view.key)}` },
    drawSign(view.sign),
    make("span", { class: "bake-name" }, view.name, make("span", { class: "aside" }, signName(view.sign))),
    make("span", { class: "bake-now" }, step
      ? [make("b", {}, step.name || step.kind), make("span", { class: "digits" }, hhmm(when), dayOf(when, now) && make("span", { class: "day" }, dayOf(when, now))), make("span", { "data-until": when })]
      : make("b", {}, say("All steps are over"))),
    next && make("span", { class: "bake-next" }, say("Next: {name}", { name: next.name || next.kind }))));
}

function draw(now = Date.now()) {
  const views = store.live.map((key) => store.seen(key)).filter((view) => view && !view.finished);
  const lang = document.documentElement.lang;
  for (const node of document.querySelectorAll("[data-word]")) {
    const words = WORDS[node.dataset.word]?.();
    if (words && node.textContent !== words) node.textContent = words;
  }
  list.show([views.map((view) => [view.key, view.name, view.now_step, view.steps]), lang], () => views.length
    ? make("ul", { class: "bake-rows" }, views.map((view) => row(view, now))) : make("p", {}, WORDS.none()));
  line.show([here.notices(), lang], () => here.notices().map(({ words, deed, id, run, href }) => make("div", { class: "notice", role: "status" },
    make("p", {}, words), run && make("button", { type: "button", class: "deed", id, onclick: run }, deed), href && make("a", { class: "deed", href }, deed))));
  clock.textContent = hhmm(now);
  countOn(document.body, now);
}

here.redraw = () => draw();
store.addEventListener("changed", () => draw());
sync.addEventListener("bake", ({ detail }) => {
  if (store.live.includes(detail)) return;
  store.live.push(detail);
  sync.fetchView(detail);
});
document.getElementById("device").addEventListener("click", () => here.device.show());
setInterval(() => draw(), 1000);
const nothing = () => {};
listen({ alarms: here.alarms, primary: nothing, undo: nothing, pane: nothing, digit: nothing, help: () => here.device.show() });
draw();
