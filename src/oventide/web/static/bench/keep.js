/* What this device keeps by itself. Memory comes first: where the browser keeps nothing (a private window, a full
   store) the bench goes on and only forgets when the page is closed. */

const memory = new Map();
const NAME = (key) => `oventide.${key}`;

export function recall(key, otherwise) {
  if (memory.has(key)) return memory.get(key);
  try {
    const text = localStorage.getItem(NAME(key));
    return text === null ? otherwise : JSON.parse(text);
  } catch {
    return otherwise;
  }
}

/** Keep a value; false where only this page's memory holds it. */
export function retain(key, value) {
  memory.set(key, value);
  try {
    localStorage.setItem(NAME(key), JSON.stringify(value));
    memory.delete(key); // another page of this browser may change it: storage is then the truth
    return true;
  } catch {
    return false;
  }
}

export function forget(key) {
  memory.delete(key);
  try {
    localStorage.removeItem(NAME(key));
  } catch {
    /* nothing was kept */
  }
}

/** Keys that begin so. */
export function kept(start) {
  const found = new Set([...memory.keys()].filter((key) => key.startsWith(start)));
  try {
    for (let index = 0; index < localStorage.length; index += 1) {
      const key = localStorage.key(index);
      if (key?.startsWith(NAME(start))) found.add(key.slice(NAME("").length));
    }
  } catch {
    /* nothing is kept */
  }
  return [...found];
}
