/* What entries come to. The laptop folds them too, and foresees; this is the part that a device out of reach can know
   by itself. Both are held to the same cases by tests. */

const at = (entry) => new Date(entry.at).getTime();

/** Entries in the order in which they happened; the same moment keeps the order in which they came. */
export const inOrder = (entries) => [...entries].sort((one, other) => at(one) - at(other));

/** Uids of entries that do not count. Undoing an undoing brings the entry back. */
export function undoneOf(entries) {
  const undoers = new Map();
  for (const entry of entries) {
    if (entry.deed === "undo") undoers.set(entry.of, [...(undoers.get(entry.of) ?? []), entry.uid]);
  }
  const counts = (uid, asked) =>
    !asked.has(uid) && !(undoers.get(uid) ?? []).some((undoer) => counts(undoer, new Set([...asked, uid])));
  return new Set(entries.map((entry) => entry.uid).filter((uid) => !counts(uid, new Set())));
}

/** What counts: steps done, lines weighed, alarms heard, readings, and which entry the undo button offers. */
export function fold(entries) {
  const once = new Map();
  for (const entry of entries) if (!once.has(entry.uid)) once.set(entry.uid, entry);
  const ordered = inOrder(once.values());
  const undone = undoneOf(ordered);
  const counted = ordered.filter((entry) => !undone.has(entry.uid) && entry.deed !== "undo");
  const done = new Map();
  const weighed = new Map();
  const heard = new Map();
  const readings = [];
  let finished = false;
  for (const entry of counted) {
    if (entry.deed === "done" && !done.has(entry.step)) done.set(entry.step, entry.at);
    else if (entry.deed === "weighed") weighed.set(entry.line, entry.value ?? null);
    else if (entry.deed === "heard") heard.set(entry.of, entry.at);
    else if (entry.deed === "reading") readings.push(entry);
    else if (entry.deed === "finish") finished = true;
  }
  const offered = counted.filter((entry) => entry.deed !== "heard");
  return { done, weighed, heard, readings, finished, undone, last: offered.at(-1)?.uid ?? null };
}

/** The step that is now: the one after the furthest that is done; null once the last is over. */
export function nowStep(done, count) {
  const next = done.size ? Math.max(...done.keys()) + 1 : 0;
  return next < count ? next : null;
}
