/* The tide page: handles that can be moved, and the step that is open kept with the question. */
import { takeHold } from "./drag.js";

document.addEventListener("toggle", (event) => {
  const step = event.target.closest?.("details.tstep");
  const kept = document.getElementById("f-step");
  if (step === event.target && step.open && kept) kept.value = step.dataset.step;
}, true);
document.addEventListener("htmx:after:swap", () => takeHold(document));
takeHold(document);
