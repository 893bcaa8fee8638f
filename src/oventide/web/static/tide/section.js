/* The section through the tin: a slider of minutes, and a button that plays them. Each minute is drawn on the server;
   what was drawn once is kept, so that going back and forth asks nothing. */

const slow = matchMedia("(prefers-reduced-motion: reduce)");
let kept = new Map();
let question = "";
let wanted = 0;
let playing = 0;

const by = (id) => document.getElementById(id);

function address(minute) {
  const asked = new URLSearchParams(new FormData(by("section-ask")));
  asked.set("minute", String(minute));
  asked.set("only", "picture");
  return `${by("section-ask").getAttribute("action")}?${asked}`;
}

async function pictureAt(minute) {
  const from = address(minute);
  if (!kept.has(from)) {
    kept.set(from, fetch(from, { headers: { "HX-Request": "true" } }).then((answer) => {
      if (!answer.ok) throw new Error(String(answer.status));
      return answer.text();
    }));
    kept.get(from).catch(() => kept.delete(from));
  }
  return kept.get(from);
}

async function show(minute) {
  wanted = minute;
  const slider = by("section-minute");
  slider.value = String(minute);
  by("section-shown").textContent = String(minute);
  let drawn;
  try {
    drawn = await pictureAt(minute);
  } catch {
    return;
  }
  if (wanted !== minute) return;
  by("section-picture").innerHTML = drawn;
  slider.setAttribute("aria-valuetext", by("section-said").textContent);
  by("f-minute").value = String(minute);
  if (minute < Number(slider.max)) pictureAt(minute + 1).catch(() => {});
}

function stop() {
  clearTimeout(playing);
  playing = 0;
  by("section-play")?.setAttribute("aria-pressed", "false");
  if (by("section-play")) by("section-play").textContent = "Play";
}

/* From minute to minute; where the reader asked for less motion, slowly, a picture at a time. */
async function play() {
  const slider = by("section-minute");
  if (!slider) return stop();
  const next = Number(slider.value) + 1;
  if (next > Number(slider.max)) return stop();
  await show(next);
  if (playing) playing = setTimeout(play, slow.matches ? 2000 : 220);
}

function ready() {
  const player = document.querySelector(".player");
  if (!player) return;
  player.hidden = false;
  const now = by("section-ask").getAttribute("action") + new URLSearchParams(new FormData(by("section-ask")));
  if (now !== question) kept = new Map();
  question = now;
  if (!playing) stop();
}

document.addEventListener("input", (event) => {
  if (event.target.id !== "section-minute") return;
  stop();
  show(Number(event.target.value));
});
document.addEventListener("click", (event) => {
  if (event.target.id !== "section-play") return;
  if (playing) return stop();
  event.target.setAttribute("aria-pressed", "true");
  event.target.textContent = "Pause";
  const slider = by("section-minute");
  if (Number(slider.value) >= Number(slider.max)) slider.value = "0";
  playing = setTimeout(play, 0);
});
document.addEventListener("htmx:after:swap", ready);
ready();
