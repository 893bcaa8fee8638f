/* The view as this device sees it: the laptop's last view with what was noted here since, before the laptop has
   answered or while it is out of reach. Later steps and their alarms move by what the step just done was early or
   late; that holds until the laptop foresees anew. */

import { instant } from "./clock.js";
import { fold, nowStep } from "./fold.js";
import { wordsOf } from "./noted.js";
import { LEVELS } from "./quantities.js";

const moved = (iso, by) => new Date(instant(iso) + by).toISOString();
const movedAll = (window, by) => ({
  earliest: moved(window.earliest, by), likely: moved(window.likely, by), latest: moved(window.latest, by),
});
const moment = (iso) => ({ earliest: iso, likely: iso, latest: iso });

function steps(view, folded) {
  const now = folded.finished ? null : nowStep(folded.done, view.steps.length);
  let by = 0;
  const shown = view.steps.map((step) => {
    const state = now === null || step.index < now ? "done" : step.index === now ? "now" : "ahead";
    if (state === "done") {
      const noted = folded.done.get(step.index);
      if (step.state !== "done" && noted) by = instant(noted) - instant(step.ends.likely);
      return { ...step, state, ends: noted ? moment(noted) : step.ends };
    }
    return { ...step, state, begins: by ? movedAll(step.begins, by) : step.begins, ends: by ? movedAll(step.ends, by) : step.ends };
  });
  if (by && now !== null) shown[now].begins = moment(folded.done.get(now - 1) ?? shown[now].begins.likely);
  return { now, by, steps: shown };
}

function alarms(view, folded, now, by) {
  return view.alarms
    .filter((alarm) => !(now === null || (alarm.step !== null && alarm.step !== undefined && alarm.step < now)))
    .map((alarm) => {
      const later = by && alarm.step !== null && alarm.step !== undefined && !alarm.heard;
      return { ...alarm, heard: alarm.heard || folded.heard.has(alarm.id), at: later ? moved(alarm.at, by) : alarm.at };
    });
}

/** A view with entries folded into it. */
export function seen(view, kept) {
  if (!view || !kept.length) return view;
  const old = view.noted.map((noted) => noted.entry).filter(Boolean).reverse();
  const folded = fold([...old, ...kept]);
  const { now, by, steps: shown } = steps(view, folded);
  const known = new Set(view.noted.map((noted) => noted.uid));
  const fresh = kept.filter((entry) => !known.has(entry.uid) && entry.deed !== "undo" && entry.deed !== "heard").map((entry) => ({
    uid: entry.uid, at: entry.at, device: "", words: wordsOf(entry, view), undone: folded.undone.has(entry.uid), undoable: true,
    waiting: true, entry,
  }));
  const noted = [...view.noted.map((each) => ({ ...each, undone: each.entry ? folded.undone.has(each.uid) : each.undone })), ...fresh];
  noted.sort((one, other) => instant(other.at) - instant(one.at));
  return {
    ...view, now_step: now, finished: view.finished || folded.finished, steps: shown, alarms: alarms(view, folded, now, by), noted,
    weighing: view.weighing.map((line) => {
      const weighed = folded.weighed.has(line.line);
      const read = folded.weighed.get(line.line) ?? null;
      const said = read === line.bowl_read_g ? line.difference : "";
      return { ...line, weighed, bowl_read_g: weighed ? read : null, difference: weighed ? said : "" };
    }),
    readings: [...view.readings, ...kept.filter((entry) => entry.deed === "reading" && !known.has(entry.uid) && LEVELS[entry.quantity]
      && !folded.undone.has(entry.uid)).map((entry) => [entry.at, LEVELS[entry.quantity], entry.value])],
    foreseen: view.foreseen === "planned" ? "planned" : "under way",
  };
}

/** The entry that the undo button offers: the newest that counts. */
export const offered = (view) => view?.noted.find((noted) => noted.undoable && !noted.undone) ?? null;
