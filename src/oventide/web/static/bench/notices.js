/* What the baker should know about this device right now: sound that waits for a tap, a laptop out of reach. */

import { hhmm } from "./clock.js";
import { say } from "./say.js";

const APART = 90_000;

/** What a reload would do in this browser while the laptop is out of reach. */
export function reloadWords() {
  if (isSecureContext && navigator.serviceWorker?.controller) return say("This page opens again without the laptop: it is kept in this browser.");
  if (isSecureContext && navigator.serviceWorker) return say("This page is being kept in this browser; from its next opening on it also opens without the laptop.");
  return say("Without the laptop this page would not open again here, so leave it open. What was noted stays in this browser and is sent when the page is next opened.");
}

export function noticesOf({ store, sync, sound, keeping }) {
  const found = [];
  if (sound.state === "waits") found.push({ id: "sound-on", words: say("Alarms have no sound yet: the browser waits for a tap."), deed: say("Sound on"), run: () => sound.wake() });
  const count = store.outbox.length;
  if (sync.stranger) {
    found.push({ id: "join", words: say("The laptop does not know this device. Notes kept here: {count}.", { count }), deed: say("Join again"), href: "/join" });
  } else if (store.outSince !== null) {
    const time = hhmm(store.outSince);
    const notes = count === 1 ? say("1 note kept here") : say("{count} notes kept here", { count });
    found.push({ id: "out", words: `${say("Out of reach of the laptop since {time}: {notes}.", { time, notes })} ${reloadWords()}` });
  }
  if (!keeping) found.push({ id: "memory", words: say("This browser keeps nothing. Leave the page open until the laptop is in reach again.") });
  if (store.outSince === null && Math.abs(sync.clockApart) > APART) {
    const minutes = Math.round(Math.abs(sync.clockApart) / 60_000);
    found.push({ id: "apart", words: sync.clockApart > 0
      ? say("This device's clock is {minutes} min ahead of the laptop's. Set one by the other.", { minutes })
      : say("This device's clock is {minutes} min behind the laptop's. Set one by the other.", { minutes }) });
  }
  return found;
}
