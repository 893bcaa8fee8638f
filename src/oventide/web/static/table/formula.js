/* The formula's page while it is typed in: the balance follows at once, the line is taken up when its box is left.
   Without this script the page does the same at every change, by its form. */

import { asker, renewAll } from "./renew.js";

const form = document.getElementById("formula");
const PAUSE_MS = 120;

const live = asker(form, PAUSE_MS, (answer, text) => {
  if (!answer.ok) return; // half typed: what is amiss is said when the box is left
  const doc = renewAll(text);
  for (const given of doc.querySelectorAll("data[data-for]")) {
    const box = document.getElementById(given.dataset.for);
    if (box && box !== document.activeElement && box.value !== given.value && !box.dataset.typed) {
      box.dataset.was ??= box.value;
      box.value = given.value;
    }
  }
});

/* A weight that only follows its line is not a weight that the baker gave: it goes back before anything is sent. */
function letGo() {
  live.stop();
  for (const box of form.querySelectorAll("[data-was]")) {
    box.value = box.dataset.was;
    delete box.dataset.was;
  }
}

form.addEventListener("input", (event) => {
  const box = event.target;
  if (!box.matches("[data-live]")) return;
  delete box.dataset.was;
  if (box.name.endsWith(".grams")) box.dataset.typed = "yes";
  live.soon();
});
for (const deed of ["change", "submit", "click"]) {
  form.addEventListener(deed, (event) => {
    if (deed !== "click" || event.target.closest("button")) letGo();
  }, true);
}

let sent = new Map();
document.addEventListener("htmx:before:request", () => {
  sent = new Map([...form.querySelectorAll('[name$=".new"]')].map((box) => [box.name, box.value]));
});
document.addEventListener("htmx:after:swap", () => {
  const box = document.activeElement;
  if (box?.name?.endsWith(".new") && box.value && box.value === sent.get(box.name)) box.value = "";
  for (const each of form.querySelectorAll("[data-typed]")) delete each.dataset.typed;
  const to = document.getElementById("focus")?.dataset.focus;
  const button = to && document.getElementById(to);
  if (button && !button.disabled) button.focus();
  else if (to) form.querySelector("#back:not(:disabled), #again:not(:disabled)")?.focus();
});
