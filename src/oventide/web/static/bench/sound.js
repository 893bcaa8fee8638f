/* Eight calls, one for each sign, made here from plain tones: no file, no network. Each has a rhythm of its own, so
   that they can be told apart over a mixer; sharp-edged waves at 700 to 2,600 Hz carry over its low hum. A browser lets
   a page sound only after a first tap. */

/* Tones as [frequency in Hz, begins at, lasts; seconds]; then the call's length and its wave. */
const CALLS = [
  { tones: [[880, 0, 0.5], [880, 0.7, 0.5]], length: 2.4, wave: "square" },
  { tones: [[1320, 0, 0.12], [1320, 0.2, 0.12], [1320, 0.4, 0.12], [1980, 0.6, 0.35]], length: 2.2, wave: "square" },
  { tones: [[1568, 0, 0.3], [1047, 0.35, 0.3], [1568, 0.7, 0.3], [1047, 1.05, 0.3]], length: 2.4, wave: "sawtooth" },
  { tones: [[740, 0, 0.09], [740, 0.14, 0.09], [740, 0.28, 0.09], [740, 0.42, 0.09], [740, 0.56, 0.09], [740, 0.7, 0.09]], length: 1.8, wave: "sawtooth" },
  { tones: [[2093, 0, 0.6], [2637, 0.08, 0.52]], length: 1.9, wave: "triangle" },
  { tones: [[784, 0, 0.22], [988, 0.25, 0.22], [1175, 0.5, 0.22], [1568, 0.75, 0.45]], length: 2.6, wave: "square" },
  { tones: [[1760, 0, 0.45], [1319, 0.5, 0.2], [880, 0.72, 0.6]], length: 2.5, wave: "sawtooth" },
  { tones: [[1000, 0, 0.16], [1250, 0.16, 0.16], [1000, 0.32, 0.16], [1250, 0.48, 0.16], [1000, 0.64, 0.16], [1250, 0.8, 0.16]], length: 2.8, wave: "square" },
];
const LOUD = 0.5;

export class Sound extends EventTarget {
  constructor() {
    super();
    const Context = globalThis.AudioContext ?? globalThis.webkitAudioContext;
    this.context = Context ? new Context() : null;
    this.calling = null;
    this.playing = [];
    this.played = 0;
    if (!this.context) return;
    const even = this.context.createDynamicsCompressor();
    even.connect(this.context.destination);
    this.out = even;
    this.told = this.#state();
    // told a little later: what stands on the screen must not move while the finger that woke it is still down
    this.context.onstatechange = () => setTimeout(() => {
      this.told = this.#state();
      this.dispatchEvent(new Event("changed"));
    }, 800);
    for (const kind of ["pointerdown", "keydown"]) addEventListener(kind, () => this.wake(), { capture: true });
  }

  /** "on", "waits" for a first tap, or "none" where the browser has no sound. */
  get state() {
    return this.context ? this.told : "none";
  }

  #state() {
    return this.context.state === "running" ? "on" : "waits";
  }

  async wake() {
    if (this.context && this.context.state !== "running") await this.context.resume().catch(() => {});
  }

  /** One call, once: to try it. */
  async once(sign) {
    await this.wake();
    if (this.context?.state === "running") this.#play(CALLS[sign % 8]);
  }

  /** Call until it is stilled. */
  call(sign) {
    if (this.calling === sign) return;
    this.still();
    this.calling = sign;
    this.#round();
  }

  still() {
    this.calling = null;
    clearTimeout(this.timer);
    for (const tone of this.playing) tone.stop();
    this.playing = [];
  }

  #round() {
    if (this.calling === null) return;
    const call = CALLS[this.calling % 8];
    if (this.context?.state === "running") this.#play(call);
    if (navigator.userActivation?.hasBeenActive) navigator.vibrate?.([300, 150, 300]);
    this.timer = setTimeout(() => this.#round(), call.length * 1000);
  }

  #play({ tones, wave }) {
    const start = this.context.currentTime + 0.02;
    this.played += 1;
    this.playing = [];
    for (const [frequency, begins, lasts] of tones) {
      for (const apart of [1, 1.007]) {
        const tone = this.context.createOscillator();
        const level = this.context.createGain();
        tone.type = wave;
        tone.frequency.value = frequency * apart;
        level.gain.setValueAtTime(0, start + begins);
        level.gain.linearRampToValueAtTime(LOUD, start + begins + 0.01);
        level.gain.setValueAtTime(LOUD, start + begins + lasts - 0.02);
        level.gain.linearRampToValueAtTime(0, start + begins + lasts);
        tone.connect(level).connect(this.out);
        tone.start(start + begins);
        tone.stop(start + begins + lasts);
        this.playing.push(tone);
      }
    }
  }
}
