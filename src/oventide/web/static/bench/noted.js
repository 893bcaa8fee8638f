/* Words for an entry that the laptop has not answered yet. */

import { hhmm } from "./clock.js";
import { QUANTITIES, grams, told } from "./quantities.js";
import { say } from "./say.js";

export const markName = (mark) =>
  ({ "at the mark": () => say("At the mark"), "too soft": () => say("Too soft"), "not yet": () => say("Not yet") })[mark]?.() ?? mark;

export const nameOf = (view, index) => view.steps[index]?.name || view.steps[index]?.kind || "";

/** One line of the log. */
export function wordsOf(entry, view) {
  const step = nameOf(view, entry.step);
  if (entry.deed === "done") return say("{step} done", { step });
  if (entry.deed === "mark") return say("{step}: {mark}", { step, mark: markName(entry.mark) });
  if (entry.deed === "reading" && QUANTITIES[entry.quantity]) {
    return say("{name} {figure}", { name: QUANTITIES[entry.quantity].name(), figure: told(entry.quantity, entry.value) });
  }
  if (entry.deed === "weighed") {
    const line = [...view.weighing, ...(view.weigh_later ?? [])].find((each) => each.line === entry.line);
    const name = line?.name ?? "";
    return entry.value === null || entry.value === undefined
      ? say("{name} in the bowl", { name })
      : say("{name} in the bowl, it weighs {weight} g", { name, weight: grams(entry.value, 0.1) });
  }
  if (entry.deed === "rescue") return say("Way out taken: {name}", { name: view.rescue.find((way) => way.id === entry.of)?.name ?? entry.of });
  if (entry.deed === "ready_by") return say("To be ready by {time}", { time: hhmm(new Date().setHours(0, entry.value, 0, 0)) });
  if (entry.deed === "note") return entry.score ? say("Tasting, {score} of 5: {text}", { score: entry.score, text: entry.text }) : entry.text;
  if (entry.deed === "finish") return say("Bake finished");
  return "";
}
