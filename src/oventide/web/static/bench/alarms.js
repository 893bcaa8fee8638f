/* Alarms: stored moments held against the clock at least once a second, and at once when the page wakes. What is due
   calls, flashes and stands there in words until it is heard. One bake at a time; its calls are heard together. */

import { countOn, hhmm, instant } from "./clock.js";
import { Place, make } from "./make.js";
import { say } from "./say.js";
import { drawSign, signName } from "./signs.js";

/** What is due, by bake, the earliest first: [{bake, name, sign, alarms}]. */
export function due(alarms, now) {
  const bakes = new Map();
  const rings = alarms.filter((alarm) => !alarm.heard && instant(alarm.at) <= now);
  for (const alarm of rings.sort((one, other) => instant(one.at) - instant(other.at))) {
    if (!bakes.has(alarm.bake)) bakes.set(alarm.bake, { bake: alarm.bake, name: alarm.name, sign: alarm.sign, alarms: [] });
    bakes.get(alarm.bake).alarms.push(alarm);
  }
  return [...bakes.values()];
}

const SETTLED = 600;

export class Alarms {
  constructor(store, sound) {
    this.store = store;
    this.sound = sound;
    this.pane = make("dialog", { class: "alarm", role: "alertdialog", "aria-labelledby": "alarm-name", "aria-describedby": "alarm-words" });
    this.place = new Place(this.pane);
    this.pane.addEventListener("cancel", (event) => event.preventDefault());
    document.body.append(this.pane);
    for (const kind of ["pageshow", "focus", "online"]) addEventListener(kind, () => this.look());
    document.addEventListener("visibilitychange", () => this.look());
    store.addEventListener("changed", () => this.look());
    setInterval(() => this.look(), 500);
    this.look();
  }

  get ringing() {
    return this.pane.open;
  }

  look(now = Date.now()) {
    const [first, ...others] = due(this.store.alarms(), now);
    this.shown = first ?? null;
    if (!first) {
      if (this.pane.open) this.#close();
      return;
    }
    const fresh = this.place.show([first, others.map((each) => each.name), document.documentElement.lang], () => this.#words(first, others));
    countOn(this.pane, now);
    if (!this.pane.open) {
      this.openedAt = performance.now();
      this.pane.showModal();
      document.documentElement.classList.add("alarming");
    }
    if (fresh) document.getElementById("heard").focus();
    this.sound.call(first.sign);
  }

  /** Everything that is due of the bake shown is heard. */
  hear() {
    const { shown } = this;
    // a touch that was meant for what stood here a moment ago is not for the alarm
    if (!shown || performance.now() - this.openedAt < SETTLED) return;
    for (const alarm of shown.alarms) this.store.note(alarm.bake, "heard", { of: alarm.id });
    this.look();
  }

  #close() {
    this.pane.close();
    this.place.shown = null;
    document.documentElement.classList.remove("alarming");
    this.sound.still();
  }

  #words({ name, sign, alarms }, others) {
    const latest = alarms.at(-1);
    return [
      make("div", { class: "alarm-head" }, drawSign(sign), make("span", {}, signName(sign))),
      make("h2", { id: "alarm-name" }, name),
      make("div", { id: "alarm-words" },
        make("p", { class: "alarm-words" }, latest.words),
        make("p", { class: "alarm-at" }, make("span", { class: "digits" }, hhmm(instant(latest.at))), " ",
          make("span", { "data-until": instant(latest.at) })),
        alarms.length > 1 && make("ul", {}, alarms.slice(0, -1).reverse().map((alarm) =>
          make("li", {}, `${hhmm(instant(alarm.at))} ${alarm.words}`))),
        others.length > 0 && make("p", {}, say("Then: {names}", { names: others.map((each) => each.name).join(", ") }))),
      make("button", { id: "heard", class: "deed primary", type: "button", onclick: () => this.hear() }, say("Heard")),
    ];
  }
}
