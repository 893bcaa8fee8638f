/* What every bench page begins with: words, what is kept, the way to the laptop, sound and alarms. */

import { Alarms } from "./alarms.js";
import { Awake } from "./awake.js";
import { Device } from "./device.js";
import { noticesOf, reloadWords } from "./notices.js";
import { retain } from "./keep.js";
import { chosen, language, speak } from "./say.js";
import { Sound } from "./sound.js";
import { Store } from "./store.js";
import { Sync } from "./sync.js";

/** Keep the pages of the bench in this browser, where it lets us. */
function keepPages() {
  if (isSecureContext && navigator.serviceWorker) navigator.serviceWorker.register("/oventide-worker.js", { scope: "/" }).catch(() => {});
}

/** `views` are those that came with the page. */
export async function begin(views) {
  const keeping = retain("here", Date.now());
  const store = new Store(document.documentElement.dataset.device ?? "");
  store.live = views.map((view) => view.key);
  for (const view of views) store.take(view);
  const sync = new Sync(store);
  const sound = new Sound();
  const awake = new Awake();
  const here = { store, sync, sound, awake, redraw: () => {} };
  here.notices = () => noticesOf({ store, sync, sound, keeping });
  await speak(chosen());
  here.alarms = new Alarms(store, sound);
  here.device = new Device({ sound, awake, reload: reloadWords, sign: views[0]?.sign ?? 0, redraw: () => here.redraw(), spoken: (tag) => sync.speak(tag) });
  sound.addEventListener("changed", () => here.redraw());
  keepPages();
  sync.start();
  if (language() !== document.documentElement.dataset.language) sync.speak(language());
  return here;
}
