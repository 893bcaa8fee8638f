/* Keep the screen awake where the browser can. It lets go when the page is hidden, so it is asked again. */

export class Awake extends EventTarget {
  constructor() {
    super();
    this.lock = null;
    this.state = "wakeLock" in navigator ? "waits" : "none";
    const ask = () => this.#ask();
    document.addEventListener("visibilitychange", ask);
    addEventListener("pointerdown", ask);
    this.#ask();
  }

  async #ask() {
    if (this.state === "none" || this.lock || document.visibilityState !== "visible") return;
    try {
      this.lock = await navigator.wakeLock.request("screen");
      this.lock.addEventListener("release", () => {
        this.lock = null;
        this.#tell("waits");
      });
      this.#tell("on");
    } catch {
      this.#tell("waits");
    }
  }

  #tell(state) {
    this.state = state;
    this.dispatchEvent(new Event("changed"));
  }
}
