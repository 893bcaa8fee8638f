/* Weighing: one ingredient at a time, and what the bowl shows after it. */

import { make } from "./make.js";
import { grams } from "./quantities.js";
import { say } from "./say.js";

/** Everything that is weighed at this step, then what may be weighed ahead. */
export const linesOf = (view) => [...view.weighing, ...(view.weigh_later ?? [])];

/** The line to weigh now: the first that is not in the bowl, those put off last; null once all are. */
export function lineNow(view, later) {
  const open = linesOf(view).filter((line) => !line.weighed);
  return open.find((line) => !later.includes(line.line)) ?? open[0] ?? null;
}

const weight = (value, step) => [make("span", { class: "digits" }, grams(value, step)), " g"];

/** The last line that was put in, with what its bowl said. */
function last(view) {
  const noted = view.noted.find((each) => !each.undone && each.entry?.deed === "weighed");
  return noted ? linesOf(view).find((line) => line.line === noted.entry.line) : null;
}

export function weighPane(view, later, deeds) {
  const line = lineNow(view, later);
  const before = last(view);
  const title = line ? line.name : say("All is weighed");
  const own = line ? linesOf(view).filter((each) => each.component === line.component) : [];
  const open = linesOf(view).filter((each) => !each.weighed && each !== line);
  const next = line && (open.find((each) => !later.includes(each.line)) ?? open[0]);
  const reading = (each) => make("button", { type: "button", class: "deed", id: "bowl", onclick: () => deeds.bowl(each) }, say("Weight of the bowl"));
  return [
    make("p", { class: "eyebrow" }, line
      ? say("{component}: {number} of {count}", { component: line.component, number: own.filter((each) => each.weighed).length + 1, count: own.length })
      : say("Weighing")),
    make("h1", { id: "title" }, title),
    line?.note && make("p", { class: "action" }, line.note),
    line && make("p", { class: "grams" }, line.grams === null ? say("as you like it") : weight(line.grams, line.step_g)),
    line && line.bowl_after_g !== null && make("p", { class: "after" }, say("The bowl then shows"), " ", weight(line.bowl_after_g, line.step_g)),
    before && make("div", { class: before.difference ? "bowl differs" : "bowl" },
      make("p", {}, make("b", {}, before.name), " ", before.bowl_read_g === null
        ? say("is in the bowl")
        : say("is in the bowl, it showed {weight} g", { weight: grams(before.bowl_read_g, 0.1) })),
      before.difference && make("p", { class: "difference" }, make("b", { "aria-hidden": "true" }, "▲ "), before.difference)),
    make("div", { class: "asks", role: "group", "aria-label": say("More for this ingredient") },
      (line ?? before) && reading(line ?? before),
      line && open.length > 0 && make("button", { type: "button", class: "deed", id: "later", onclick: () => deeds.later(line) }, say("Later"))),
    next && make("p", { class: "next" }, make("span", { class: "eyebrow" }, say("Next")), " ", make("b", {}, next.name), " ",
      next.grams !== null && weight(next.grams, next.step_g)),
    make("table", { class: "list" },
      make("caption", {}, say("All ingredients")),
      make("thead", { class: "unseen" }, make("tr", {}, make("th", { scope: "col" }, say("In the bowl")), make("th", { scope: "col" }, say("Ingredient")), make("th", { scope: "col" }, say("Weight")))),
      make("tbody", {}, linesOf(view).map((each) => make("tr", { class: each.weighed ? "in" : each === line ? "here" : "" },
        make("td", {}, each.weighed ? make("span", { class: "tick", role: "img", "aria-label": say("in the bowl") }, "✓") : ""),
        make("th", { scope: "row" }, each.name),
        make("td", { class: "n" }, each.grams === null ? "" : [grams(each.grams, each.step_g), " g"]))))),
  ];
}
