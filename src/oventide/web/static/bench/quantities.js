/* What can be read at the bench: its name, unit, decimals, and the figures that a probe, a jar or a scale can show. */

import { figure, say } from "./say.js";
import { recall, retain } from "./keep.js";

const HEAT = (low, high) => ({ unit: "°C", decimals: 1, low, high, heat: true });

export const QUANTITIES = {
  "dough temperature": { name: () => say("Dough temperature"), ...HEAT(-25, 60) },
  core: { name: () => say("Core temperature"), ...HEAT(-25, 110) },
  surface: { name: () => say("Surface temperature"), ...HEAT(-25, 250) },
  "rise since mixing": { name: () => say("Rise since mixing"), unit: "×", decimals: 2, low: 0.5, high: 6 },
  "rise since shaping": { name: () => say("Rise since shaping"), unit: "×", decimals: 2, low: 0.5, high: 6 },
  "jar height": { name: () => say("Height in the jar"), unit: "mm", decimals: 0, low: 5, high: 500 },
  "bowl weight": { name: () => say("Weight of the bowl"), unit: "g", decimals: 1, low: 0, high: 200_000 },
};

/** The water level of the tide chart that a reading is drawn at. */
export const LEVELS = { "dough temperature": "temperature", core: "temperature", surface: "surface", "rise since mixing": "rise", "rise since shaping": "rise" };

/** The names of water levels. */
export const levelName = (name) =>
  ({ temperature: () => say("Temperature"), surface: () => say("Surface"), rise: () => say("Rise"), softness: () => say("Softness") })[name]?.() ?? name;

export const inFahrenheit = () => recall("degree", document.documentElement.dataset.degree || "c") === "f";
export const showDegrees = (degree) => retain("degree", degree);

/** A figure as it is typed and shown: [value, unit] of what is kept in °C, ×, mm, g. */
export function shown(quantity, value) {
  const { unit, heat } = QUANTITIES[quantity];
  return heat && inFahrenheit() ? [value * 1.8 + 32, "°F"] : [value, unit];
}

/** What was typed, in the unit that is kept. */
export function stored(quantity, typed) {
  const { heat } = QUANTITIES[quantity];
  const value = heat && inFahrenheit() ? (typed - 32) / 1.8 : typed;
  return Math.round(value * 1000) / 1000;
}

/** "24.5 °C", without zeros that nobody typed. */
export function told(quantity, value) {
  const [number, unit] = shown(quantity, value);
  const whole = Math.abs(number - Math.round(number)) < 0.05;
  const { decimals } = QUANTITIES[quantity];
  return `${figure(number, whole ? 0 : decimals)} ${unit}`;
}

/** Grams as the scale shows them. */
export const grams = (value, step = 1) => figure(value, step < 1 ? 1 : 0);
