// The stove by the clock: minutes that run down, a ring when they are over, a screen that stays awake, a voice.
// What is true stands in the book; this only shows it, so a reload or a second phone loses nothing.
import { unsent } from "./taps.js";

const RUNG = "chauka-rung";
const AHEAD = "chauka-ahead";
const RING_EVERY_S = 15;
const RINGS = 4;
const aloud = "speechSynthesis" in window;
let sound;
let ahead = 0; // how far the book's clock is ahead of this phone's [ms]
let lastRead = "";

const live = () => document.querySelector("#live[data-now]");
const bookNow = () => Date.now() + ahead;
const rung = () => new Set(JSON.parse(sessionStorage.getItem(RUNG) ?? "[]"));

function shown() {
  const part = live();
  if (!part) return;
  ahead = howFarAhead(part.dataset.now);
  const button = part.querySelector("#aloud");
  button.hidden = !aloud;
  button.addEventListener("click", () => read(true));
  unsent.show(part);
  tick();
  read(false);
  stayAwake();
}

// A page that the phone had kept is shown again with its old moment: then what was known of the clock still holds.
function howFarAhead(now) {
  const known = JSON.parse(localStorage.getItem(AHEAD) ?? "null");
  if (known?.now === now) return known.ms;
  const ms = new Date(now) - Date.now();
  localStorage.setItem(AHEAD, JSON.stringify({ now, ms }));
  return ms;
}

const secondsTo = (moment) => Math.round((new Date(moment) - bookNow()) / 1000);

function tick() {
  for (const step of live()?.querySelectorAll("[data-ends]") ?? []) {
    const seconds = secondsTo(step.dataset.ends);
    const left = step.querySelector(".left");
    const [minutes, rest] = [Math.floor(Math.abs(seconds) / 60), String(Math.abs(seconds) % 60).padStart(2, "0")];
    left.textContent = seconds > 0 ? `${minutes}:${rest}` : live().dataset.over;
    left.classList.toggle("over", seconds <= 0);
    const times = Math.floor(-seconds / RING_EVERY_S);
    if (seconds <= 0 && times < RINGS) ringOnce(`${step.dataset.key}-${times}`);
  }
  for (const step of live()?.querySelectorAll("[data-starts]") ?? []) {
    const seconds = secondsTo(step.dataset.starts);
    if (seconds <= 0 && seconds > -60) ringOnce(`start-${step.dataset.starts}`);
  }
}

function ringOnce(key) {
  if (rung().has(key)) return;
  sessionStorage.setItem(RUNG, JSON.stringify([...rung(), key]));
  if (navigator.userActivation?.hasBeenActive) navigator.vibrate?.([300, 150, 300, 150, 300]);
  if (!sound) return;
  sound.resume();
  for (const [number, pitch] of [660, 880, 660, 880].entries()) {
    const note = sound.createOscillator();
    const loud = sound.createGain();
    note.frequency.value = pitch;
    loud.gain.value = 0.25;
    note.connect(loud).connect(sound.destination);
    note.start(sound.currentTime + number * 0.4);
    note.stop(sound.currentTime + number * 0.4 + 0.3);
  }
}

let speaking = sessionStorage.getItem("chauka-aloud") === "yes";
function read(asked) {
  if (asked) {
    speaking = !speaking;
    sessionStorage.setItem("chauka-aloud", speaking ? "yes" : "no");
    lastRead = "";
    if (!speaking) speechSynthesis.cancel();
  }
  const button = live()?.querySelector("#aloud");
  button?.classList.toggle("quiet", !speaking);
  button?.setAttribute("aria-pressed", String(speaking));
  const parts = [...(live()?.querySelectorAll(".step .where, .step .do") ?? [])];
  const words = parts.map(sentence).join(" ");
  if (!aloud || !speaking || words === lastRead) return;
  lastRead = words;
  speechSynthesis.cancel();
  for (const part of parts) {
    const said = new SpeechSynthesisUtterance(sentence(part));
    said.lang = part.closest("[lang]").lang; // a step stays in the cook's own language
    speechSynthesis.speak(said);
  }
}

// "At 19:05 · burner 2, wok · 8 min" is read as one sentence, and then what is to be done.
const sentence = (part) => `${part.textContent.trim().replaceAll(" · ", ", ").replace(/[.।\s]+$/, "")}.`;

async function stayAwake() {
  if (!live() || document.visibilityState !== "visible") return;
  try {
    await navigator.wakeLock?.request("screen");
  } catch {
    // the phone saves its battery; nothing else depends on it
  }
}

document.addEventListener("click", () => {
  sound ??= window.AudioContext && new AudioContext(); // a browser lets a page sound only after a touch
});
document.addEventListener("visibilitychange", stayAwake);
document.addEventListener("htmx:afterSwap", shown);
document.addEventListener("htmx:sendError", (event) => unsent.keep(event.detail, bookNow, live(), tick));
addEventListener("online", () => unsent.send(live()));
setInterval(() => unsent.send(live()), 5000);
setInterval(tick, 1000);
navigator.serviceWorker?.register("/worker.js").catch(() => {});
shown();
