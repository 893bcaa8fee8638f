/* Elements and drawings, made in one call. Text is always text: nothing here reads markup. */

const SVG = "http://www.w3.org/2000/svg";

function dress(node, attributes, children) {
  for (const [name, value] of Object.entries(attributes ?? {})) {
    if (value === undefined || value === null || value === false) continue;
    if (name.startsWith("on")) node.addEventListener(name.slice(2), value);
    else node.setAttribute(name, value === true ? "" : String(value));
  }
  node.append(...children.flat(2).filter((child) => child !== null && child !== undefined && child !== false && child !== ""));
  return node;
}

/** An element: make("p", {class: "lead"}, "words"). */
export const make = (tag, attributes, ...children) => dress(document.createElement(tag), attributes, children);

/** The same for a drawing. */
export const draw = (tag, attributes, ...children) => dress(document.createElementNS(SVG, tag), attributes, children);

/** A part of the screen that is made anew only when what it shows has changed; the focus stays where it was. */
export class Place {
  constructor(node) {
    this.node = node;
    this.shown = null;
  }

  show(what, build) {
    const sign = JSON.stringify(what);
    if (sign === this.shown) return false;
    this.shown = sign;
    const held = this.node.contains(document.activeElement) ? document.activeElement : null;
    const caret = held?.selectionStart;
    this.node.replaceChildren(...[build()].flat(2).filter(Boolean));
    const again = held?.id ? document.getElementById(held.id) : null;
    again?.focus({ preventScroll: true });
    if (again && typeof caret === "number") again.setSelectionRange?.(caret, held.selectionEnd);
    return true;
  }
}
