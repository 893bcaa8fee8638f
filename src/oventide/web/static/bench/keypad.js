/* The keypad: one figure, large keys, its unit, and the figures that can be. A keyboard types here too. */

import { make } from "./make.js";
import { QUANTITIES, inFahrenheit, showDegrees, shown, stored } from "./quantities.js";
import { decimalSign, figure, say } from "./say.js";

const LONGEST = 7;

export class Keypad {
  constructor() {
    this.pane = make("dialog", { class: "keypad", "aria-labelledby": "keypad-name" });
    this.pane.addEventListener("keydown", (event) => this.#key(event));
    this.pane.addEventListener("close", () => this.back?.focus?.());
    document.body.append(this.pane);
  }

  get open() {
    return this.pane.open;
  }

  /** Ask for a reading: `take` is given the figure in °C, ×, mm or g. */
  ask(quantity, take, { title = null, extra = null, first = "" } = {}) {
    this.#show({
      title: title ?? QUANTITIES[quantity].name(), quantity, take, extra, typed: first,
      signed: QUANTITIES[quantity].heat && QUANTITIES[quantity].low < 0, decimals: QUANTITIES[quantity].decimals > 0,
      read: (typed) => this.#reading(quantity, typed),
    });
  }

  /** Ask for a time of day: `take` is given the minute of the day. */
  askClock(title, take) {
    this.#show({ title, quantity: null, take, extra: null, typed: "", signed: false, decimals: false, read: (typed) => this.#clock(typed) });
  }

  close() {
    if (this.pane.open) this.pane.close();
  }

  #show(asked) {
    this.back = document.activeElement;
    this.asked = asked;
    this.typed = asked.typed;
    this.#build();
    if (!this.pane.open) this.pane.showModal();
    document.getElementById("keypad-figure").focus();
  }

  #reading(quantity, typed) {
    const { low, high, decimals } = QUANTITIES[quantity];
    const number = Number(typed.replace(decimalSign(), "."));
    if (typed === "" || Number.isNaN(number)) return { amiss: say("Type a figure.") };
    const value = stored(quantity, number);
    if (value < low || value > high) {
      const [least, unit] = shown(quantity, low);
      const [most] = shown(quantity, high);
      const places = Number.isInteger(least) && Number.isInteger(most) ? 0 : Math.min(decimals, 1);
      return { amiss: say("{low} to {high} {unit} can be. {typed} stands there.", { low: figure(least, places), high: figure(most, places), unit, typed }) };
    }
    return { value };
  }

  #clock(typed) {
    const digits = typed.padStart(4, "0");
    const [hours, minutes] = [Number(digits.slice(0, 2)), Number(digits.slice(2))];
    if (typed.length < 3 || typed.length > 4 || hours > 23 || minutes > 59) return { amiss: say("Type hours and minutes, 0730 for half past seven.") };
    return { value: hours * 60 + minutes };
  }

  #press(key) {
    const sign = decimalSign();
    if (key === "back") this.typed = this.typed.slice(0, -1);
    else if (key === "minus") this.typed = this.typed.startsWith("-") ? this.typed.slice(1) : `-${this.typed}`;
    else if (key === "point") {
      if (this.asked.decimals && !this.typed.includes(sign)) this.typed = `${this.typed || "0"}${sign}`;
    } else if (this.typed.length < LONGEST) this.typed = this.typed === "0" ? key : this.typed + key;
    this.amiss.textContent = "";
    this.#figure();
  }

  #figure() {
    const clock = !this.asked.quantity;
    const words = clock ? `${this.typed.padStart(4, "–").slice(-4, -2)}:${this.typed.padStart(4, "–").slice(-2)}` : this.typed || "–";
    this.figure.textContent = words.replace("-", "−");
  }

  #enter() {
    const { value, amiss } = this.asked.read(this.typed);
    if (amiss) {
      this.amiss.textContent = amiss;
      return;
    }
    const { take } = this.asked;
    this.close();
    take(value);
  }

  #key(event) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const { key } = event;
    if (/^\d$/.test(key)) this.#press(key);
    else if (key === "." || key === ",") this.#press("point");
    else if (key === "-" && this.asked.signed) this.#press("minus");
    else if (key === "Backspace") this.#press("back");
    else if (key === "Enter" && !event.target.closest("button")) this.#enter();
    else return;
    event.preventDefault();
    event.stopPropagation();
  }

  #build() {
    const { title, quantity, extra, signed, decimals } = this.asked;
    const button = (words, deed, attributes = {}) => make("button", { type: "button", class: "deed", ...attributes, onclick: deed }, words);
    const digits = (...each) => each.map((digit) => button(digit, () => this.#press(digit)));
    this.figure = make("output", { class: "digits", id: "keypad-figure", tabindex: "-1", "aria-live": "polite" });
    this.amiss = make("p", { class: "amiss", role: "alert" });
    const heat = quantity && QUANTITIES[quantity].heat;
    const unit = quantity ? shown(quantity, 0)[1] : say("hours and minutes");
    this.pane.replaceChildren(...[
      make("div", { class: "keypad-head" },
        make("h2", { id: "keypad-name" }, title),
        button(say("Leave it"), () => this.close(), { id: "keypad-leave" })),
      extra && make("p", { class: "keypad-extra" }, extra),
      make("div", { class: "keypad-figure" }, this.figure, make("span", { class: "unit" }, unit),
        heat && button(inFahrenheit() ? "°C" : "°F", () => this.#otherDegree(), { "aria-label": inFahrenheit() ? say("Type in °C") : say("Type in °F") })),
      this.amiss,
      make("div", { class: "keys" },
        digits("7", "8", "9"), button("⌫", () => this.#press("back"), { "aria-label": say("Take the last digit away") }),
        digits("4", "5", "6"), signed ? button("−", () => this.#press("minus"), { "aria-label": say("Below zero") }) : make("span", {}),
        digits("1", "2", "3"), decimals ? button(decimalSign(), () => this.#press("point"), { "aria-label": say("Decimal sign") }) : make("span", {}),
        digits("0"), button(say("Note it"), () => this.#enter(), { class: "deed primary", id: "keypad-enter" })),
    ].filter(Boolean));
    this.#figure();
  }

  #otherDegree() {
    showDegrees(inFahrenheit() ? "c" : "f");
    this.#build();
    document.getElementById("keypad-figure").focus();
  }
}
