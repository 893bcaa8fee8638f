/* The step now: what to do, until when, what it should come to; the way out where its window was missed; what is next. */

import { hhmm, instant } from "./clock.js";
import { clockline } from "./clockline.js";
import { make } from "./make.js";
import { markName, nameOf } from "./noted.js";
import { QUANTITIES, told } from "./quantities.js";
import { say } from "./say.js";

const MARK_SIGNS = { "at the mark": "◉", "too soft": "≈", "not yet": "○" };

function countdown({ name, opens, closes }, now) {
  const title = name === "dough rolls" ? say("Dough rolls") : say("Butter spreads");
  const from = opens ? instant(opens.likely) : 0;
  const to = closes ? instant(closes.likely) : Infinity;
  let words;
  if (now < from) words = [say("from"), from];
  else if (now < to && to !== Infinity) words = [say("until"), to];
  else if (now < to) words = [say("as long as you like"), null];
  else words = [say("over since"), to];
  const window = now < from ? opens : closes;
  return make("div", { class: now >= from && now < to ? "countdown open" : "countdown" },
    make("h2", {}, title, make("span", { class: "state" }, now < from ? say("not yet") : now < to ? say("now") : say("too late"))),
    make("p", {}, words[0], " ", words[1] !== null && [make("span", { class: "digits" }, hhmm(words[1])), " ", make("span", { "data-until": words[1] })]),
    window && instant(window.latest) - instant(window.earliest) >= 60_000
      && make("p", { class: "span" }, say("{low} to {high}", { low: hhmm(instant(window.earliest)), high: hhmm(instant(window.latest)) })));
}

function lastReading(view, step, quantity) {
  const last = view.noted.find((noted) => !noted.undone && noted.entry?.deed === "reading" && noted.entry.quantity === quantity && noted.entry.step === step.index);
  return last ? make("span", { class: "last" }, say("{figure} at {time}", { figure: told(quantity, last.entry.value), time: hhmm(instant(last.at)) })) : null;
}

export function nextStep(view) {
  const next = view.now_step === null ? null : view.steps[view.now_step + 1];
  if (!next) return null;
  const when = instant(next.begins.likely);
  return make("p", { class: "next" }, make("span", { class: "eyebrow" }, say("Next")), " ",
    make("b", {}, next.name || next.kind), " ", make("span", { class: "digits" }, hhmm(when)), " ", make("span", { "data-until": when }));
}

/** The pane of the step now. `deeds` are what its buttons do. */
export function stepPane(view, deeds, wide, now) {
  if (view.now_step === null) return null;
  const step = view.steps[view.now_step];
  const left = view.weighing.filter((line) => !line.weighed).length;
  return [
    make("p", { class: "eyebrow" }, say("Step {number} of {count}", { number: step.index + 1, count: view.steps.length })),
    make("h1", { id: "title" }, step.name || step.kind),
    step.action && make("p", { class: "action" }, step.action),
    step.target && make("p", { class: "target" }, make("b", {}, say("Until")), " ", step.target),
    clockline(step.begins.likely, step.ends, now, wide),
    view.countdowns.length > 0 && make("div", { class: "countdowns" }, view.countdowns.map((each) => countdown(each, now))),
    view.rescue.length > 0 && make("section", { class: "rescue", "aria-labelledby": "rescue" },
      make("h2", { id: "rescue" }, say("The window was missed. Ways out:")),
      view.rescue.map((way) => make("button", { type: "button", class: "deed way", id: `way-${way.id}`, onclick: () => deeds.rescue(way) },
        make("b", {}, way.name), make("span", {}, way.costs), make("span", { class: "because" }, way.because)))),
    step.cautions.map((caution) => make("p", { class: "caution" }, make("b", { "aria-hidden": "true" }, "▲ "), caution)),
    step.marks.length > 0 && make("div", { class: "marks", role: "group", "aria-label": say("How is it?") }, step.marks.map((mark) =>
      make("button", { type: "button", class: "deed", id: `mark-${mark.replaceAll(" ", "-")}`, onclick: () => deeds.mark(mark) },
        make("span", { class: "mark-sign", "aria-hidden": "true" }, MARK_SIGNS[mark] ?? ""), markName(mark)))),
    (step.asks.length > 0 || left > 0) && make("div", { class: "asks", role: "group", "aria-label": say("Note a reading") },
      left > 0 && make("button", { type: "button", class: "deed", id: "to-weigh", onclick: () => deeds.pane("weigh") },
        say("Weigh"), make("span", { class: "last" }, say("{count} left", { count: left }))),
      step.asks.map((quantity) => make("button", { type: "button", class: "deed", id: `ask-${quantity.replaceAll(" ", "-")}`, onclick: () => deeds.read(quantity) },
        QUANTITIES[quantity].name(), lastReading(view, step, quantity)))),
    step.outside && make("p", { class: "outside" }, step.outside),
    step.figures.length > 0 && make("ul", { class: "figures-foreseen", "aria-label": say("Foreseen for its end") }, step.figures.map((words) => make("li", {}, words))),
    step.text && make("p", { class: "own-words" }, "“", step.text, "”"),
    view.said.map((words) => make("p", { class: "said" }, words)),
    make("p", { class: "foreseen" }, foreseenWords(view)),
  ];
}

export function foreseenWords(view) {
  if (view.foreseen === "planned") return say("Times by the written minutes, until a forecast is there.");
  if (view.foreseen === "under way") return say("Foreseeing anew; the times are the last ones.");
  return say("Foreseen with what was noted by {time}.", { time: hhmm(instant(view.made_at)) });
}

/** What a screen reader is told when the step changes. */
export function stepWords(view) {
  if (view.now_step === null) return say("All steps are over.");
  const step = view.steps[view.now_step];
  return say("Step {number}: {name}. Likely done at {time}.", { number: step.index + 1, name: nameOf(view, view.now_step), time: hhmm(instant(step.ends.likely)) });
}
