/* The view as this device sees it: the laptop's last view with what was noted here since, before the laptop has
   answered or while it is out of reach. Later steps and their alarms move by what the step just done was early or
   late; that holds until the laptop foresees anew. */

import { instant } from "./clock.js";
import { fold, nowStep } from "./fold.js";
import { wordsOf } from "./noted.js";
import { LEVELS } from "./quantities.js";

const EARLY = 60_000;
const QUIET = new Set(["undo", "heard"]); // what the undo button does not offer
const moved = (iso, by) => new Date(instant(iso) + by).toISOString();
const movedAll = (window, by) => ({
  earliest: moved(window.earliest, by), likely: moved(window.likely, by), latest: moved(window.latest, by),
});
const moment = (iso) => ({ earliest: iso, likely: iso, latest: iso });

/** Steps that are done: those of the view, unless their entry was undone here, and those done here. */
function doneOf(view, entries, folded) {
  const taken = new Set(entries.filter((entry) => entry.deed === "done" && folded.undone.has(entry.uid)).map((entry) => entry.step));
  const before = view.steps.filter((step) => step.state === "done" && !taken.has(step.index)).map((step) => [step.index, step.ends.likely]);
  return new Map([...before, ...folded.done]);
}

function steps(view, entries, folded) {
  const done = doneOf(view, entries, folded);
  const now = view.finished || folded.finished ? null : nowStep(done, view.steps.length);
  let by = 0;
  const shown = view.steps.map((step) => {
    const state = now === null || step.index < now ? "done" : step.index === now ? "now" : "ahead";
    if (state === "done") {
      const noted = done.get(step.index);
      if (step.state !== "done" && noted) by = instant(noted) - instant(step.ends.likely);
      return { ...step, state, ends: noted ? moment(noted) : step.ends };
    }
    return { ...step, state, begins: by ? movedAll(step.begins, by) : step.begins, ends: by ? movedAll(step.ends, by) : step.ends };
  });
  if (by && now !== null) shown[now].begins = moment(done.get(now - 1) ?? shown[now].begins.likely);
  return { now, by, steps: shown };
}

function alarms(view, folded, now, by) {
  return view.alarms
    .filter((alarm) => !(now === null || (alarm.step !== null && alarm.step !== undefined && alarm.step < now)))
    .map((alarm) => {
      const later = by && alarm.step !== null && alarm.step !== undefined && !alarm.heard;
      return later ? { ...alarm, at: moved(alarm.at, by) } : alarm;
    })
    .map((alarm) => ({ ...alarm, heard: isHeard(alarm, folded.heard) }));
}

/** An alarm was heard if that was known at its moment or later: one that moves to later calls again. */
export function isHeard(alarm, heard) {
  return alarm.heard || (heard.has(alarm.id) && instant(heard.get(alarm.id)) >= instant(alarm.at) - EARLY);
}

/** Lines with what was weighed here. */
function lines(weighing, folded) {
  return weighing.map((line) => {
    const weighed = folded.weighed.has(line.line);
    const read = folded.weighed.get(line.line) ?? null;
    const said = weighed && read === line.bowl_read_g ? line.difference : "";
    return { ...line, weighed, bowl_read_g: weighed ? read : null, difference: said };
  });
}

/** A view with entries folded into it. */
export function seen(view, kept) {
  if (!view || !kept.length) return view;
  const old = view.noted.map((noted) => noted.entry).filter(Boolean).reverse();
  const entries = [...old, ...kept];
  const folded = fold(entries);
  const { now, by, steps: shown } = steps(view, entries, folded);
  const all = lines([...view.weighing, ...(view.weigh_later ?? [])], folded);
  const known = new Set(view.noted.map((noted) => noted.uid));
  const fresh = kept.filter((entry) => !known.has(entry.uid) && !QUIET.has(entry.deed)).map((entry) => ({
    uid: entry.uid, at: entry.at, device: "", words: wordsOf(entry, view), undone: folded.undone.has(entry.uid), undoable: true,
    waiting: true, entry,
  }));
  const noted = [...view.noted.map((each) => ({ ...each, undone: each.entry ? folded.undone.has(each.uid) : each.undone, undoable: each.entry ? !QUIET.has(each.entry.deed) : each.undoable })), ...fresh];
  noted.sort((one, other) => instant(other.at) - instant(one.at));
  return {
    ...view, now_step: now, finished: view.finished || folded.finished, steps: shown, alarms: alarms(view, folded, now, by), noted,
    weighing: all.filter((line) => line.step === now), weigh_later: now === null ? [] : all.filter((line) => line.step > now),
    readings: [...view.readings, ...kept.filter((entry) => entry.deed === "reading" && !known.has(entry.uid) && LEVELS[entry.quantity]
      && !folded.undone.has(entry.uid)).map((entry) => [entry.at, LEVELS[entry.quantity], entry.value])],
    foreseen: view.foreseen === "planned" ? "planned" : "under way",
  };
}

/** The entry that the undo button offers: the newest that counts. */
export const offered = (view) => view?.noted.find((noted) => noted.undoable && !noted.undone) ?? null;
