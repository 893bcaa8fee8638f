/* The tide page: handles that can be moved, and the step that is open kept with the question. */
import { takeHold } from "./drag.js";

document.addEventListener("toggle", (event) => {
  const step = event.target.closest?.("details.tstep");
  const kept = document.getElementById("f-step");
  if (step === event.target && step.open && kept) kept.value = step.dataset.step;
}, true);
/* A box that stands beside the chart belongs to the form above it. */
document.addEventListener("change", (event) => {
  const { form } = event.target;
  if (form && form.id === "tide-ask" && !form.contains(event.target)) form.dispatchEvent(new Event("change"));
});
document.addEventListener("htmx:after:swap", () => takeHold(document));
takeHold(document);
