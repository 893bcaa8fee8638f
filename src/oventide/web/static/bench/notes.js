/* The log of what was noted, a note of one's own, and at the end the tasting. */

import { dayOf, hhmm, instant } from "./clock.js";
import { make } from "./make.js";
import { say } from "./say.js";

const SCORES = [1, 2, 3, 4, 5];

/** The box for a note; what is typed lives outside, so that a change of the screen loses nothing. */
function box(draft, tasting, deeds) {
  const label = tasting ? say("How did they turn out?") : say("A note");
  return make("div", { class: "note-box" },
    make("label", { for: "note" }, label),
    make("textarea", { id: "note", rows: 3, maxlength: 2000, oninput: (event) => { draft.text = event.target.value; } }, draft.text),
    tasting && make("fieldset", { class: "scores" }, make("legend", {}, say("Score, 5 is best")),
      SCORES.map((score) => make("button", { type: "button", class: "deed", id: `score-${score}`, "aria-pressed": draft.score === score ? "true" : "false",
        onclick: () => deeds.score(score) }, String(score)))),
    make("button", { type: "button", class: "deed", id: "keep-note", onclick: () => deeds.keepNote() }, say("Keep this note")));
}

const row = (noted, now) => make("li", { class: noted.undone ? "undone" : "" },
  make("time", { datetime: noted.at, class: "digits-small" }, hhmm(instant(noted.at)), dayOf(instant(noted.at), now) && ` ${dayOf(instant(noted.at), now)}`),
  make("span", {}, noted.undone ? make("s", {}, noted.words) : noted.words,
    noted.undone && make("span", { class: "aside" }, " ", say("undone")),
    noted.waiting && make("span", { class: "aside" }, " ", say("kept here")),
    noted.device && make("span", { class: "aside" }, " ", noted.device)));

export function notesPane(view, draft, refused, deeds, now) {
  return [
    make("p", { class: "eyebrow" }, view.name),
    make("h1", { id: "title" }, say("Notes")),
    refused.length > 0 && make("section", { class: "notice" },
      make("p", {}, say("The laptop did not take these. Nothing else was changed.")),
      make("ul", {}, refused.map((each) => make("li", {}, `${hhmm(instant(each.entry.at))} ${each.entry.deed} ${each.entry.value ?? each.entry.text ?? ""}: ${each.because}`))),
      make("button", { type: "button", class: "deed", id: "drop-refused", onclick: () => deeds.dropRefused() }, say("I have read it"))),
    make("ol", { class: "log", reversed: true }, view.noted.map((noted) => row(noted, now))),
    view.noted.length === 0 && make("p", {}, say("Nothing is noted yet.")),
    box(draft, false, deeds),
  ];
}

/** After the last step. */
export function endPane(view, draft, deeds, now) {
  return [
    make("p", { class: "eyebrow" }, view.name),
    make("h1", { id: "title" }, view.finished ? say("Bake finished") : say("All steps are over")),
    view.finished
      ? make("p", { class: "action" }, make("a", { href: `/bakes/${view.key}` }, say("Its record")), " ", make("a", { href: "/bench" }, say("All bakes")))
      : box(draft, true, deeds),
    make("ol", { class: "log", reversed: true }, view.noted.slice(0, 8).map((noted) => row(noted, now))),
  ];
}
