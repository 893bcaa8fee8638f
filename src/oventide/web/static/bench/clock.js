/* Moments as the bench says them: 24 hours always, and how long until then by this device's clock. */

import { language, say } from "./say.js";

const MINUTE = 60_000;
const two = (number) => String(number).padStart(2, "0");

export const instant = (iso) => new Date(iso).getTime();

/** "04:12". */
export function hhmm(when) {
  const date = new Date(when);
  return `${two(date.getHours())}:${two(date.getMinutes())}`;
}

/** The day's short name where it is another day than today, else nothing. */
export function dayOf(when, now = Date.now()) {
  const date = new Date(when);
  if (date.toDateString() === new Date(now).toDateString()) return "";
  return new Intl.DateTimeFormat(language(), { weekday: "short" }).format(date);
}

/** A length of time: "12 min", "1 h 05 min". */
export function length(milliseconds) {
  const minutes = Math.round(Math.abs(milliseconds) / MINUTE);
  if (minutes < 60) return say("{minutes} min", { minutes });
  return say("{hours} h {minutes} min", { hours: Math.floor(minutes / 60), minutes: two(minutes % 60) });
}

/** "in 12 min", "now", "4 min ago". */
export function until(when, now = Date.now()) {
  const left = when - now;
  if (Math.abs(left) < MINUTE / 2) return say("now");
  return left > 0 ? say("in {time}", { time: length(left) }) : say("{time} ago", { time: length(left) });
}

/** Words that count by themselves stand in elements with data-until; this brings them up to now. */
export function countOn(root, now = Date.now()) {
  for (const node of root.querySelectorAll("[data-until]")) {
    const words = until(Number(node.dataset.until), now);
    if (node.textContent !== words) node.textContent = words;
  }
}
