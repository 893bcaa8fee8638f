/* Between this device and the laptop: what was noted goes there in order and once each; what changed comes back. */

const FIRST_WAIT = 1000;
const LONGEST_WAIT = 30_000;
const QUIET = 20_000;

class Refused extends Error {
  constructor(status) {
    super(String(status));
    this.status = status;
  }
}

/** What a device that has joined sends with each change; on the laptop itself there is none. */
function token() {
  const found = /(?:^|; )oventide_token=([0-9a-f]+)/.exec(document.cookie);
  return found ? { "X-Oventide": found[1] } : {};
}

async function ask(address, options = {}) {
  const answer = await fetch(address, { ...options, headers: { Accept: "application/json", ...options.headers }, signal: AbortSignal.timeout(10_000) });
  if (!answer.ok) throw new Refused(answer.status);
  if (answer.redirected) throw new Refused(401); // sent to the page where a device joins
  return [await answer.json(), answer.headers.get("Date")];
}

export class Sync extends EventTarget {
  constructor(store) {
    super();
    this.store = store;
    this.wait = FIRST_WAIT;
    this.sending = false;
    this.asking = new Map();
    this.stranger = false;
    this.clockApart = 0;
    store.addEventListener("noted", () => this.send());
    addEventListener("online", () => this.#again(0));
    document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && this.refresh());
    addEventListener("pageshow", (event) => event.persisted && this.refresh());
  }

  start() {
    this.#listen();
    this.refresh();
    setInterval(() => {
      const busy = this.store.live.some((key) => this.store.views.get(key)?.foreseen === "under way");
      if (document.visibilityState === "visible" && (busy || Date.now() - (this.lastAsked ?? 0) > QUIET)) this.refresh();
    }, 2000);
  }

  /** Ask for everything that this page shows. */
  async refresh() {
    this.lastAsked = Date.now();
    await this.send();
    await Promise.all([...this.store.live.map((key) => this.fetchView(key)), this.fetchAlarms()]);
  }

  /** Tell the laptop which language this device speaks: it words the steps, the log and the alarms. */
  async speak(language) {
    try {
      await fetch("/language", { method: "POST", headers: token(), body: new URLSearchParams({ language, back: "/words/en.json" }), signal: AbortSignal.timeout(10_000) });
      await this.refresh();
    } catch {
      /* told when the page is next opened */
    }
  }

  fetchView(key) {
    return this.#one(`/bench/${encodeURIComponent(key)}/view`, (view) => this.store.take(view));
  }

  fetchAlarms() {
    return this.#one("/bench/alarms", (list) => this.store.takeAlarms(list.alarms ?? list));
  }

  /** Send what waits: one lot at a time, in order. */
  async send() {
    if (this.sending) return;
    this.sending = true;
    try {
      for (let lot = this.#lot(); lot.entries.length; lot = this.#lot()) {
        const [noted, date] = await ask(`/bench/${encodeURIComponent(lot.bake)}/entries`, {
          method: "POST", headers: { "Content-Type": "application/json", ...token() }, body: JSON.stringify({ entries: lot.entries }),
        });
        const answered = new Set([...noted.taken, ...(noted.refused ?? []).map(([uid]) => uid)]);
        const silent = lot.entries.map((entry) => entry.uid).filter((uid) => !answered.has(uid));
        this.store.settle([...noted.taken, ...silent], noted.refused ?? []);
        this.store.take(noted.view);
        this.#reached(date, true);
        this.fetchAlarms();
      }
    } catch (trouble) {
      this.#trouble(trouble, this.#lot());
    } finally {
      this.sending = false;
    }
  }

  #lot() {
    const [first] = this.store.outbox;
    if (!first) return { bake: "", entries: [] };
    const others = this.store.outbox.findIndex((each) => each.bake !== first.bake);
    const lot = this.store.outbox.slice(0, others < 0 ? undefined : others).slice(0, 50);
    return { bake: first.bake, entries: lot.map((each) => each.entry) };
  }

  /** One question at a time for each address; a change that comes meanwhile asks once more. */
  async #one(address, take) {
    const running = this.asking.get(address);
    if (running) {
      running.again = true;
      return;
    }
    const here = { again: false };
    this.asking.set(address, here);
    try {
      do {
        here.again = false;
        const [answer, date] = await ask(address);
        take(answer);
        this.#reached(date);
      } while (here.again);
    } catch (trouble) {
      this.#trouble(trouble, null);
    } finally {
      this.asking.delete(address);
    }
  }

  #listen() {
    const stream = new EventSource("/changes");
    stream.addEventListener("bake", (event) => {
      const { key } = JSON.parse(event.data);
      if (this.store.live.includes(key)) this.fetchView(key);
      this.fetchAlarms();
      this.dispatchEvent(new CustomEvent("bake", { detail: key }));
    });
    stream.addEventListener("again", () => this.refresh());
    stream.onopen = () => this.store.outSince !== null && this.#again(0);
    stream.onerror = () => {
      // a closed stream (the server said no) is opened again later; a broken one the browser opens by itself
      if (stream.readyState === EventSource.CLOSED) setTimeout(() => this.#listen(), LONGEST_WAIT);
      else this.fetchAlarms();
    };
  }

  /** The laptop answered. Notes that it has not taken yet are still tried at their own pace. */
  #reached(date, sent = false) {
    this.stranger = false;
    if (date) this.clockApart = Date.now() - new Date(date).getTime();
    if (this.store.outbox.length && !sent) {
      if (!this.sending && !this.timer) this.#again(this.wait);
      return;
    }
    this.wait = FIRST_WAIT;
    clearTimeout(this.timer);
    this.timer = null;
    this.store.outOfReach(null);
  }

  #trouble(trouble, lot) {
    if (trouble instanceof Refused) {
      if (trouble.status === 401 || trouble.status === 403) {
        this.stranger = true;
        this.store.outOfReach(Date.now());
        return;
      }
      if (lot && trouble.status >= 400 && trouble.status < 500 && trouble.status !== 408 && trouble.status !== 429) {
        // the laptop will not take this lot however often it comes: keep it where it can be read
        this.store.settle([], lot.entries.map((entry) => [entry.uid, String(trouble.status)]));
        this.store.dispatchEvent(new Event("changed"));
        return;
      }
    }
    this.store.outOfReach(Date.now());
    this.#again(this.wait);
    this.wait = Math.min(this.wait * 2, LONGEST_WAIT);
  }

  #again(after) {
    if (this.timer && after) return;
    clearTimeout(this.timer);
    this.timer = setTimeout(() => {
      this.timer = null;
      this.refresh();
    }, after);
  }
}
