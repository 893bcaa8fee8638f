/* This device: language, light, sound, degrees, single keys, and what it can do when the laptop is out of reach. */

import { make } from "./make.js";
import { inFahrenheit, showDegrees } from "./quantities.js";
import { recall, retain } from "./keep.js";
import { LANGUAGES, language, say, speak } from "./say.js";
import { signName } from "./signs.js";

export const singleKeys = () => recall("keys", true);

export function setTheme(theme) {
  retain("theme", theme);
  if (theme) document.documentElement.dataset.theme = theme;
  else delete document.documentElement.dataset.theme;
}

/** A row of choices of which one holds. */
function choice(name, id, options, held, take) {
  return make("fieldset", { class: "choice" }, make("legend", {}, name), options.map(([value, words, tag]) =>
    make("button", { type: "button", class: "deed", id: `${id}-${value}`, lang: tag, "aria-pressed": held === value ? "true" : "false", onclick: () => take(value) }, words)));
}

export class Device {
  constructor({ sound, awake, reload, sign, redraw, spoken }) {
    Object.assign(this, { sound, awake, reload, sign, redraw, spoken });
    this.pane = make("dialog", { class: "device", "aria-labelledby": "device-name" });
    this.pane.addEventListener("close", () => this.back?.focus?.());
    document.body.append(this.pane);
    for (const each of [sound, awake]) each.addEventListener("changed", () => this.pane.open && this.#build());
  }

  show() {
    this.back = document.activeElement;
    this.#build();
    this.pane.showModal();
    document.getElementById("device-back").focus();
  }

  #again() {
    this.#build();
    this.redraw();
  }

  async #speak(tag) {
    const found = await speak(tag);
    this.#again();
    if (found) this.spoken(tag);
    else this.words.textContent = say("The words of {language} are not on this device yet. They come when the laptop is in reach.", { language: LANGUAGES[tag] });
  }

  #build() {
    const held = this.pane.contains(document.activeElement) ? document.activeElement.id : "";
    this.words = make("p", { role: "status" });
    this.pane.replaceChildren(
      make("div", { class: "keypad-head" }, make("h2", { id: "device-name" }, say("This device")),
        make("button", { type: "button", class: "deed primary", id: "device-back", onclick: () => this.pane.close() }, say("Back"))),
      choice(say("Light"), "theme", [["", say("As the device")], ["night", say("Night")], ["flour", say("Flour light")]], recall("theme", ""),
        (theme) => { setTheme(theme); this.#again(); }),
      make("fieldset", { class: "choice" }, make("legend", {}, say("Sound")), make("p", {}, this.#soundWords()),
        make("button", { type: "button", class: "deed", id: "try-sound", onclick: () => this.sound.once(this.sign) }, say("Try the call of {sign}", { sign: signName(this.sign) }))),
      choice(say("Language"), "language", Object.entries(LANGUAGES).map(([tag, name]) => [tag, name, tag]), language(), (tag) => this.#speak(tag)),
      this.words,
      choice(say("Temperatures in"), "degree", [["c", "°C"], ["f", "°F"]], inFahrenheit() ? "f" : "c", (degree) => { showDegrees(degree); this.#again(); }),
      choice(say("Single keys of a keyboard"), "keys", [["on", say("On")], ["off", say("Off")]], singleKeys() ? "on" : "off", (state) => { retain("keys", state === "on"); this.#again(); }),
      make("p", {}, this.awake.state === "on" ? say("The screen is kept awake.")
        : this.awake.state === "none" ? say("This browser cannot keep the screen awake. Set it so in the device's own settings.")
          : say("The screen is kept awake after a tap, while this page is in front.")),
      make("p", {}, this.reload()));
    if (held) document.getElementById(held)?.focus();
  }

  #soundWords() {
    if (this.sound.state === "on") return say("Sound is on.");
    if (this.sound.state === "none") return say("This browser makes no sound. Alarms flash and stand there in words.");
    return say("This browser waits for a tap before it may sound.");
  }
}
