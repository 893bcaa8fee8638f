/* What this device knows: the last view of each bake, the entries that wait to be sent, the alarms of all bakes. */

import { fold } from "./fold.js";
import { instant } from "./clock.js";
import { forget, kept, recall, retain } from "./keep.js";
import { isHeard, seen } from "./seen.js";

const uid = () => [...crypto.getRandomValues(new Uint8Array(12))].map((byte) => byte.toString(36).padStart(2, "0")).join("");

export class Store extends EventTarget {
  constructor(device = "") {
    super();
    this.device = device;
    this.views = new Map();
    this.outSince = null;
    /** Bakes that this page shows, whose views are kept fresh. */
    this.live = [];
    this.alarmsKept = recall("alarms", []);
    for (const key of kept("view.")) {
      const view = recall(key, null);
      if (view?.key) this.views.set(view.key, view);
    }
    addEventListener("storage", (event) => {
      if (event.key?.startsWith("oventide.")) this.#reread(event.key.slice("oventide.".length));
    });
  }

  /** Entries that wait, in the order in which they were noted: [{bake, entry}]. */
  get outbox() {
    return recall("outbox", []);
  }

  /** Entries that the laptop did not take, with its words: [{bake, entry, because}]. */
  get refused() {
    return recall("refused", []);
  }

  waiting(bake) {
    return this.outbox.filter((each) => each.bake === bake).map((each) => each.entry);
  }

  /** A bake as this device sees it. */
  seen(bake) {
    return seen(this.views.get(bake), this.waiting(bake));
  }

  /** Take a view from the laptop, unless a newer one is here. */
  take(view) {
    const known = this.views.get(view.key);
    if (known && (known.number > view.number || (known.number === view.number && instant(known.made_at) > instant(view.made_at)))) return;
    this.views.set(view.key, view);
    retain(`view.${view.key}`, view);
    this.#prune();
    this.#tell();
  }

  /** Note something. It counts here at once and goes to the laptop when that is in reach. */
  note(bake, deed, fields = {}) {
    const entry = { uid: uid(), deed, at: new Date().toISOString(), device: this.device, ...fields };
    retain("outbox", [...this.outbox, { bake, entry }]);
    this.dispatchEvent(new Event("noted"));
    this.#tell();
    return entry;
  }

  /** The laptop has answered for these. */
  settle(taken, refused = []) {
    const answered = new Set([...taken, ...refused.map(([each]) => each)]);
    const because = new Map(refused);
    const back = this.outbox.filter((each) => because.has(each.entry.uid)).map((each) => ({ ...each, because: because.get(each.entry.uid) }));
    retain("outbox", this.outbox.filter((each) => !answered.has(each.entry.uid)));
    if (back.length) retain("refused", [...this.refused, ...back].slice(-50));
  }

  dropRefused(bake) {
    retain("refused", this.refused.filter((each) => each.bake !== bake));
    this.#tell();
  }

  takeAlarms(alarms) {
    this.alarmsKept = alarms;
    retain("alarms", alarms);
    this.#tell();
  }

  /** Alarms of every bake, as this device sees them: heard here counts at once. */
  alarms() {
    const shown = this.live.map((key) => this.seen(key)).filter(Boolean);
    const others = this.alarmsKept.filter((alarm) => !shown.some((view) => view.key === alarm.bake));
    const own = shown.filter((view) => !view.finished).flatMap((view) => view.alarms);
    const { heard } = fold(this.outbox.map((each) => each.entry));
    return [...own, ...others].map((alarm) => (isHeard(alarm, heard) ? { ...alarm, heard: true } : alarm));
  }

  outOfReach(since) {
    if ((since === null) === (this.outSince === null)) return;
    this.outSince = since;
    this.#tell();
  }

  /** Only the last dozen bakes are kept on this device. */
  #prune() {
    const old = [...this.views.values()].sort((one, other) => instant(other.made_at) - instant(one.made_at)).slice(12);
    for (const { key } of old.filter((view) => !this.live.includes(view.key) && !this.waiting(view.key).length)) {
      this.views.delete(key);
      forget(`view.${key}`);
    }
  }

  #reread(key) {
    if (key === "alarms") this.alarmsKept = recall("alarms", []);
    const view = key.startsWith("view.") ? recall(key, null) : null;
    if (view) {
      const known = this.views.get(view.key);
      if (!known || known.number <= view.number) this.views.set(view.key, view);
    }
    this.#tell();
  }

  #tell() {
    this.dispatchEvent(new Event("changed"));
  }
}
