/* The screen of one bake: a strip above, one pane at a time, and a dock whose large deed and undo never move. */

import { countOn, hhmm, instant } from "./clock.js";
import { Place, make } from "./make.js";
import { nameOf } from "./noted.js";
import { QUANTITIES } from "./quantities.js";
import { recall } from "./keep.js";
import { endPane, notesPane } from "./notes.js";
import { offered } from "./seen.js";
import { drawSign, signName } from "./signs.js";
import { say } from "./say.js";
import { nextStep, stepPane, stepWords } from "./step.js";
import { tideBeside, tidePane } from "./tide.js";
import { lineNow, linesOf, weighPane } from "./weigh.js";

const TWICE = 700; // a second touch within this is the same touch, with a floury finger
const SIDE = matchMedia("(min-width: 1100px) and (min-height: 560px)");

export class Screen {
  constructor(root, key, { store, keypad, device, notices }) {
    Object.assign(this, { root, key, store, keypad, device, notices });
    this.pane = "step";
    this.later = [];
    this.whole = false;
    this.draft = { text: "", score: null };
    this.deedAt = 0;
    this.#frame();
    const view = store.seen(key);
    if (view.weighing.some((line) => !line.weighed)) this.pane = "weigh";
    this.told = view.now_step;
    store.addEventListener("changed", () => this.draw());
    SIDE.addEventListener("change", () => this.draw());
    new ResizeObserver(() => this.draw()).observe(this.main);
    setInterval(() => this.tick(), 1000);
    this.draw();
  }

  get view() {
    return this.store.seen(this.key);
  }

  #frame() {
    const part = (tag, attributes) => {
      const node = make(tag, attributes);
      return [node, new Place(node)];
    };
    [this.strip, this.stripPlace] = part("header", { class: "strip" });
    [this.line, this.linePlace] = part("div", { class: "notices" });
    [this.main, this.mainPlace] = part("main", { id: "main", class: "pane", tabindex: "-1" });
    [this.side, this.sidePlace] = part("aside", { class: "side" });
    [this.dock, this.dockPlace] = part("section", { class: "dock", id: "dock" });
    this.live = make("p", { class: "unseen", role: "status", "aria-live": "polite" });
    this.root.replaceChildren(this.strip, this.line, this.main, this.side, this.dock, this.live);
  }

  /** Draw what has changed. */
  draw(now = Date.now()) {
    const { view } = this;
    if (!view) return;
    const common = [document.documentElement.lang, recall("degree", "")];
    this.stripPlace.show([view.name, view.sign, ...common], () => this.#stripParts(view));
    this.linePlace.show([this.notices(), ...common], () => this.#noticeParts());
    const minute = Math.floor(now / 10_000);
    const wide = Math.floor(this.main.clientWidth - parseFloat(getComputedStyle(this.main).paddingLeft) * 2);
    const shown = [this.pane, view, this.later, this.whole, this.draft.score, this.store.refused.length, ...common];
    const charted = this.pane === "tide" || this.pane === "step" || view.now_step === null ? [minute, wide] : [];
    this.mainPlace.show([...shown, ...charted], () => this.#paneParts(view, wide, now));
    const isSide = SIDE.matches;
    this.side.hidden = !isSide;
    if (isSide) {
      const room = Math.floor(this.side.clientWidth - parseFloat(getComputedStyle(this.side).paddingLeft) * 2);
      this.sidePlace.show([view.levels, view.steps, view.readings, view.now_step, this.pane, minute, room, ...common], () => this.#sideParts(view, room, now));
    }
    this.dock.setAttribute("aria-label", say("Deeds"));
    this.dockPlace.show([this.pane, view.now_step, view.finished, lineNow(view, this.later)?.line, offered(view), linesOf(view).length > 0, ...common], () => this.#dockParts(view));
    if (view.now_step !== this.told) {
      this.told = view.now_step;
      this.tell(stepWords(view));
    }
    this.tick(now);
  }

  /** Each second: the clock and what counts by itself. */
  tick(now = Date.now()) {
    const words = hhmm(now);
    if (this.clock && this.clock.textContent !== words) this.clock.textContent = words;
    countOn(this.root, now);
    if (Math.floor(now / 10_000) !== this.ten) {
      this.ten = Math.floor(now / 10_000);
      this.draw(now);
    }
  }

  /** Told to a screen reader. */
  tell(words) {
    this.live.textContent = words;
  }

  go(pane) {
    this.pane = pane;
    this.draw();
    this.main.scrollTop = 0;
    scrollTo(0, 0);
    this.tell(document.getElementById("title")?.textContent ?? "");
  }

  note(deed, fields) {
    return this.store.note(this.key, deed, fields);
  }

  /** The one large deed of the pane. */
  primary() {
    const now = Date.now();
    if (now - this.deedAt < TWICE) return;
    this.deedAt = now;
    const { view } = this;
    if (view.finished) return;
    if (view.now_step === null && this.pane === "step") {
      this.keepNote();
      this.note("finish");
    } else if (this.pane === "weigh") {
      const line = lineNow(view, this.later);
      if (line) this.weighed(line, null);
      else this.go("step");
    } else if (this.pane !== "step") this.go("step");
    else this.note("done", { step: view.now_step });
  }

  undo() {
    const last = offered(this.view);
    if (!last) return;
    this.note("undo", { of: last.uid });
    this.tell(say("Undone: {words}", { words: last.words }));
  }

  read(quantity, first = "") {
    const step = this.view.now_step;
    this.keypad.ask(quantity, (value) => {
      this.note("reading", { step, quantity, value });
    }, { first, extra: step === null ? null : nameOf(this.view, step) });
  }

  digit(first) {
    const { view } = this;
    if (this.pane === "weigh") {
      const line = lineNow(view, this.later);
      if (line) this.bowl(line, first);
      return;
    }
    const [quantity] = view.steps[view.now_step]?.asks ?? [];
    if (quantity) this.read(quantity, first);
  }

  weighed(line, value) {
    this.later = this.later.filter((each) => each !== line.line);
    this.note("weighed", value === null ? { line: line.line } : { line: line.line, value });
    const next = lineNow(this.view, this.later);
    this.tell(next ? say("Next: {name}", { name: next.name }) : say("All is weighed"));
  }

  bowl(line, first = "") {
    this.keypad.ask("bowl weight", (value) => this.weighed(line, value), {
      first, title: QUANTITIES["bowl weight"].name(), extra: say("with {name} in it", { name: line.name }),
    });
  }

  keepNote() {
    const text = this.draft.text.trim();
    if (!text && !this.draft.score) return;
    this.note("note", { text, ...(this.draft.score ? { score: this.draft.score } : {}) });
    this.draft = { text: "", score: null };
    this.mainPlace.shown = null;
    this.draw();
  }

  #deeds() {
    return {
      pane: (pane) => this.go(pane),
      read: (quantity) => this.read(quantity),
      mark: (mark) => this.note("mark", { step: this.view.now_step, mark }),
      rescue: (way) => this.note("rescue", { step: this.view.now_step, of: way.id }),
      bowl: (line) => this.bowl(line),
      later: (line) => { this.later = [...this.later.filter((each) => each !== line.line), line.line]; this.draw(); },
      whole: (whole) => { this.whole = whole; this.draw(); },
      readyBy: () => this.keypad.askClock(say("Ready by"), (value) => this.note("ready_by", { value })),
      score: (score) => { this.draft.score = this.draft.score === score ? null : score; this.draw(); },
      keepNote: () => this.keepNote(),
      dropRefused: () => this.store.dropRefused(this.key),
    };
  }

  #paneParts(view, wide, now) {
    const deeds = this.#deeds();
    if (this.pane === "weigh") return weighPane(view, this.later, deeds);
    if (this.pane === "tide") return tidePane(view, wide, this.whole, deeds, now);
    if (this.pane === "notes") return notesPane(view, this.draft, this.store.refused.filter((each) => each.bake === this.key), deeds, now);
    if (view.now_step === null || view.finished) return endPane(view, this.draft, deeds, now);
    return [...stepPane(view, deeds, wide, now), nextStep(view)];
  }

  #sideParts(view, room, now) {
    return [
      this.pane !== "tide" && make("section", { "aria-label": say("Tide") }, tideBeside(view, room, now)),
      make("section", { "aria-label": say("Steps") }, make("ol", { class: "ahead" }, view.steps.filter((step) => step.index >= (view.now_step ?? 0)).map((step) =>
        make("li", { class: step.state, "aria-current": step.state === "now" ? "step" : null }, make("span", { class: "no" }, String(step.index + 1)), make("b", {}, step.name || step.kind),
          make("span", { class: "digits-small" }, hhmm(instant(step.ends.likely))))))),
    ];
  }

  #stripParts(view) {
    this.clock = make("time", { class: "digits", id: "clock" }, hhmm(Date.now()));
    return [
      make("a", { class: "bakes", href: "/bench" }, drawSign(view.sign),
        make("span", { class: "bake-name" }, view.name, make("span", { class: "aside" }, signName(view.sign), make("span", { class: "unseen" }, ` ${say("All bakes")}`)))),
      this.clock,
      make("button", { type: "button", class: "deed", id: "device", onclick: () => this.device.show() }, say("Device")),
    ];
  }

  #noticeParts() {
    return this.notices().map(({ words, deed, id, run, href }) => make("div", { class: "notice", role: "status" }, make("p", {}, words),
      run && make("button", { type: "button", class: "deed", id, onclick: run }, deed), href && make("a", { class: "deed", href }, deed)));
  }

  #dockParts(view) {
    const last = offered(view);
    const line = lineNow(view, this.later);
    let [words, small] = [say("Done"), view.now_step === null ? "" : nameOf(view, view.now_step)];
    if (this.pane === "weigh") [words, small] = line ? [say("In the bowl"), line.name] : [say("To the step"), small];
    else if (this.pane !== "step") words = say("To the step");
    else if (view.now_step === null) [words, small] = [say("Finish the bake"), ""];
    const over = view.finished && this.pane === "step";
    const tab = (pane, name) => make("button", { type: "button", class: "deed tab", id: `tab-${pane}`, "aria-current": this.pane === pane ? "page" : null, onclick: () => this.go(pane) }, name);
    return [
      make("div", { class: "deeds" },
        make("button", { type: "button", class: "deed undo", id: "undo", disabled: !last, onclick: () => this.undo(), "aria-label": last ? say("Undo: {words}", { words: last.words }) : say("Undo") },
          make("b", {}, say("Undo")), last && make("span", { class: "what" }, last.words)),
        !over && make("button", { type: "button", class: "deed primary", id: "primary", onclick: () => this.primary() }, make("b", {}, words), small && make("span", { class: "what" }, small))),
      make("nav", { class: "tabs", "aria-label": say("Panes") }, tab("step", say("Step")),
        linesOf(view).length > 0 && tab("weigh", say("Weigh")), tab("tide", say("Tide")), tab("notes", say("Notes"))),
      make("p", { class: "keys-help" }, say("Keys: space does the large deed or hears an alarm, digits open the keypad, u undoes, s w t n change the pane, ? is this device.")),
    ];
  }
}
