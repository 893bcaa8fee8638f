/* One bake at the bench. */

import { Keypad } from "./keypad.js";
import { listen } from "./keys.js";
import { Screen } from "./screen.js";
import { begin } from "./begin.js";

const view = JSON.parse(document.getElementById("view").textContent);
document.documentElement.dataset.bake = view.key;
const here = await begin([view]);
const screen = new Screen(document.getElementById("bench"), view.key, {
  store: here.store, keypad: new Keypad(), device: here.device, notices: here.notices,
});
here.redraw = () => screen.draw();
listen({
  alarms: here.alarms,
  primary: () => screen.primary(),
  undo: () => screen.undo(),
  pane: (pane) => screen.go(pane),
  digit: (first) => screen.digit(first),
  help: () => here.device.show(),
});
