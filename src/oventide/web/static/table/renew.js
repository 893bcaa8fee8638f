/* Bring what stands on the page to what an answer says, touching only what differs, so that a level that moves can
   be seen to move. Boxes are never touched. */

function same(one, other) {
  return one.nodeType === other.nodeType && one.nodeName === other.nodeName;
}

export function renew(here, fresh) {
  if (here.nodeType === Node.TEXT_NODE) {
    if (here.data !== fresh.data) here.data = fresh.data;
    return;
  }
  for (const { name, value } of fresh.attributes) {
    if (here.getAttribute(name) !== value) here.setAttribute(name, value);
  }
  for (const name of here.getAttributeNames()) {
    if (!fresh.hasAttribute(name)) here.removeAttribute(name);
  }
  const now = [...here.childNodes];
  const then = [...fresh.childNodes];
  if (now.length !== then.length || !now.every((node, at) => same(node, then[at]))) {
    here.replaceChildren(...then.map((node) => document.importNode(node, true)));
    return;
  }
  now.forEach((node, at) => {
    if (node.nodeType <= 3) renew(node, then[at]);
  });
}

/* Every marked part of an answer, put where it belongs. */
export function renewAll(text) {
  const answer = new DOMParser().parseFromString(text, "text/html");
  for (const fresh of answer.querySelectorAll("[data-here]")) {
    const here = document.getElementById(fresh.id);
    if (here) {
      fresh.removeAttribute("data-here");
      if (here.hasAttribute("data-here")) fresh.setAttribute("data-here", "");
      if (here.tagName === "OUTPUT") here.textContent = fresh.textContent;
      else renew(here, fresh);
    }
  }
  return answer;
}

/* Ask while something is typed: the last question wins, and a question that was overtaken is given up. */
export function asker(form, pause, read) {
  let timer = 0;
  let running = null;
  async function ask() {
    running?.abort();
    const mine = (running = new AbortController());
    const body = new URLSearchParams(new FormData(form));
    body.set("live", "yes");
    try {
      const answer = await fetch(form.action, {
        method: "POST", body, headers: { "HX-Request": "true" }, signal: mine.signal,
      });
      const text = await answer.text();
      if (running === mine) read(answer, text);
    } catch (trouble) {
      if (trouble.name !== "AbortError") throw trouble;
    }
  }
  return {
    soon() { clearTimeout(timer); timer = setTimeout(ask, pause); },
    stop() { clearTimeout(timer); running?.abort(); running = null; },
  };
}
