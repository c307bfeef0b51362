// The stove by the clock: minutes that run down, a ring when they are over, a screen that stays awake, a voice.
// What is true stands in the book; this only shows it, so a reload or a second phone loses nothing.
const RUNG = "chauka-rung";
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
  ahead = new Date(part.dataset.now) - Date.now();
  const button = part.querySelector("#aloud");
  button.hidden = !aloud;
  button.addEventListener("click", () => read(true));
  tick();
  read(false);
}

function tick() {
  for (const step of live()?.querySelectorAll("[data-ends]") ?? []) {
    const seconds = Math.round((new Date(step.dataset.ends) - bookNow()) / 1000);
    const left = step.querySelector(".left");
    const [minutes, rest] = [Math.floor(Math.abs(seconds) / 60), String(Math.abs(seconds) % 60).padStart(2, "0")];
    left.textContent = seconds > 0 ? `${minutes}:${rest}` : "time is up";
    left.classList.toggle("over", seconds <= 0);
    if (seconds <= 0 && !rung().has(step.dataset.key)) ring(step.dataset.key);
  }
}

function ring(key) {
  sessionStorage.setItem(RUNG, JSON.stringify([...rung(), key]));
  navigator.vibrate?.([300, 150, 300, 150, 300]);
  if (!sound) return;
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
  live()?.querySelector("#aloud")?.classList.toggle("quiet", !speaking);
  const words = [...(live()?.querySelectorAll(".step .do") ?? [])].map((step) => step.textContent).join(". ");
  if (!aloud || !speaking || words === lastRead) return;
  lastRead = words;
  speechSynthesis.cancel();
  speechSynthesis.speak(new SpeechSynthesisUtterance(words));
}

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
setInterval(tick, 1000);
shown();
stayAwake();
