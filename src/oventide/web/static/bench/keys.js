/* A keyboard at the bench: single keys, while no box is being typed in. They can be turned off on this device. */

import { singleKeys } from "./device.js";

/** `deeds` by key; digits open the keypad, the space bar hears an alarm or does the one large deed. */
export function listen({ alarms, primary, undo, pane, digit, help }) {
  document.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || event.defaultPrevented) return;
    const { key, target } = event;
    if (alarms.ringing) {
      if (key === " " || key === "Enter") {
        event.preventDefault();
        if (!event.repeat) alarms.hear();
      }
      return;
    }
    if (!singleKeys() || event.repeat || document.querySelector("dialog[open]") || target.closest("input, textarea, select")) return;
    if (key === " " && target.closest("button, a, summary")) return; // the space bar presses what has the focus
    const deed = { " ": primary, u: undo, s: () => pane("step"), w: () => pane("weigh"), t: () => pane("tide"), n: () => pane("notes"), "?": help }[key];
    if (deed) deed();
    else if (/^\d$/.test(key)) digit(key);
    else return;
    event.preventDefault();
  });
}
