/* Words. English stands in the scripts; another language comes from its catalogue, kept here for when the laptop is
   out of reach. A word that a catalogue lacks is said in English. */

import { recall, retain } from "./keep.js";

/** Languages by their own names. */
export const LANGUAGES = { en: "English", de: "Deutsch", fr: "Français", it: "Italiano", es: "Español" };

let spoken = "en";
let catalogue = {};

export const language = () => spoken;

/** The words in the language chosen: say("Next: {name}", {name}). */
export function say(msgid, values = {}) {
  const words = catalogue[msgid] || msgid;
  return words.replace(/\{(\w+)\}/g, (whole, name) => (name in values ? String(values[name]) : whole));
}

/** A figure with the decimal sign of the language. */
export function figure(value, decimals = 0) {
  return new Intl.NumberFormat(language(), {
    minimumFractionDigits: decimals, maximumFractionDigits: decimals, useGrouping: false,
  }).format(value);
}

/** The decimal sign of the language. */
export const decimalSign = () => figure(0.5, 1).charAt(1);

async function fetched(tag) {
  const answer = await fetch(`/words/${tag}.json`, { signal: AbortSignal.timeout(5000) });
  if (!answer.ok) return null;
  const read = await answer.json();
  retain(`words.${tag}`, read.words ?? read);
  return read.words ?? read;
}

/** Take a language from now on; true where its words are here. What is kept on this device is used at once. */
export async function speak(tag) {
  if (!(tag in LANGUAGES)) return false;
  let words = tag === "en" ? {} : recall(`words.${tag}`, null);
  if (tag !== "en") {
    const coming = fetched(tag).catch(() => null); // out of reach: what is kept here is used
    words ??= await coming;
  }
  if (words === null) return false;
  spoken = tag;
  catalogue = words;
  document.documentElement.lang = tag;
  retain("language", tag);
  // the laptop's own words follow: steps, alarms and ingredients come from there in this language
  document.cookie = `oventide_language=${tag}; path=/; max-age=31536000; samesite=strict`;
  return true;
}

/** The language that was chosen on this device, or the page's own. */
export const chosen = () => recall("language", document.documentElement.lang || "en");
