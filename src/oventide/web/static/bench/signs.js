/* The eight signs by which bakes are told apart: shapes hung from a harbour mast, each with its name and sound. */

import { draw } from "./make.js";
import { say } from "./say.js";

const NAMES = [
  () => say("Ball"), () => say("Cone"), () => say("Diamond"), () => say("Drum"),
  () => say("Ring"), () => say("Hourglass"), () => say("Pennant"), () => say("Wave"),
];
const SHAPES = [
  ["circle", { cx: 32, cy: 32, r: 25 }],
  ["path", { d: "M32 6 60 58H4Z" }],
  ["path", { d: "M32 3 61 32 32 61 3 32Z" }],
  ["path", { d: "M13 5H51V59H13Z" }],
  ["path", { d: "M32 5a27 27 0 1 1 0 54a27 27 0 0 1 0-54Zm0 14a13 13 0 1 0 0 26a13 13 0 0 0 0-26Z", "fill-rule": "evenodd" }],
  ["path", { d: "M8 4H56L36 32 56 60H8L28 32Z" }],
  ["path", { d: "M8 4H16V10L60 26 16 42V60H8Z" }],
  ["path", { d: "M3 22c9-14 20-14 29 0s20 14 29 0v22c-9 14-20 14-29 0s-20-14-29 0Z" }],
];

export const signName = (sign) => NAMES[sign % 8]();

/** The shape; its name stands beside it, so the drawing itself is silent. */
export function drawSign(sign) {
  const [tag, attributes] = SHAPES[sign % 8];
  return draw("svg", { class: "sign", viewBox: "0 0 64 64", "aria-hidden": "true", focusable: "false" }, draw(tag, attributes));
}
