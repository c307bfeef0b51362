// Ticks of the market and bench lists: shown at once, kept on the phone, sent when there is a network.
// A tick is known by its plan and line, so one that is sent twice counts once.
const KEY = "chauka-ticks";
const PATIENCE_MS = 20000;
const form = document.querySelector("#ticks");
const waiting = document.querySelector("#waiting");
const token = () => form.elements.csrfmiddlewaretoken;

const left = () => JSON.parse(localStorage.getItem(KEY) ?? "[]");
const keep = (ticks) => localStorage.setItem(KEY, JSON.stringify(ticks));
const add = (tick) => keep([...left(), { id: `${Date.now()}-${Math.random()}`, ...tick }]);
// Read anew each time: a tick may have been added while another was on its way.
const drop = (tick) => keep(left().filter((one) => one.id !== tick.id));

const box = (key) => document.querySelector(`.box[value="${CSS.escape(key)}"]`);
const isHere = (tick) => tick.to === form.action && tick.plan === form.elements.plan.value;

function show(button, bought) {
  button.setAttribute("aria-pressed", String(bought));
  button.name = bought ? "untick" : "tick";
  button.closest("li").classList.toggle("bought", bought);
  const section = button.closest("section");
  const open = section.querySelectorAll("li:not(.bought)").length;
  section.querySelector(".to-buy").textContent = open ? `${open} ${form.dataset.open}` : form.dataset.done;
}

function showTick(tick, wanted = "tick" in tick) {
  const button = isHere(tick) && box(tick.tick ?? tick.untick);
  if (!button) return;
  show(button, wanted);
  const said = button.closest("li").querySelector(".so-said");
  if (said) said.textContent = wanted ? soSaid(tick) : "";
}

function soSaid(tick) {
  const parts = [tick.amount, tick.instead, tick.paid && `${form.dataset.coin} ${tick.paid}`].filter(Boolean);
  return parts.length ? `${form.dataset.so} ${parts.join(", ")}.` : "";
}

function sayWhatWaits(words) {
  const count = left().length;
  const waits = count === 1 ? form.dataset.waitsOne : form.dataset.waits;
  waiting.textContent = words ?? (count ? waits.replace("#", count) : "");
}

const post = ({ to, id, ...said }) =>
  fetch(to, {
    method: "POST",
    body: new URLSearchParams({ ...said, csrfmiddlewaretoken: token().value }),
    headers: { Accept: "application/json" },
    signal: AbortSignal.timeout?.(PATIENCE_MS),
  });

// A page that the phone had kept may carry an old token; a new one comes with a new page.
async function renewToken() {
  const page = await (await fetch(location.href, { cache: "no-store" })).text();
  const fresh = new DOMParser().parseFromString(page, "text/html").querySelector("#ticks [name=csrfmiddlewaretoken]");
  if (!fresh) throw new Error("the book asks who this is");
  token().value = fresh.value;
}

// Sends the oldest tick; gives a complaint where the book refuses it, and throws where it could not be asked.
async function sendOne(tick) {
  let answer = await post(tick);
  if (answer.status === 403) {
    await renewToken();
    answer = await post(tick);
  }
  const said = answer.headers.get("Content-Type")?.startsWith("application/json");
  if (answer.ok && said) return drop(tick);
  if (answer.status !== 422 || !said) throw new Error("the book does not answer");
  drop(tick);
  if (!left().some((later) => (later.tick ?? later.untick) === (tick.tick ?? tick.untick))) {
    showTick(tick, !("tick" in tick));
  }
  return (await answer.json()).complaint;
}

let sending = false;
async function send() {
  if (sending) return;
  sending = true;
  let complaint;
  try {
    while (left().length) complaint = (await sendOne(left()[0])) ?? complaint;
  } catch {
    // what waits is kept; the next try is never far
  } finally {
    sending = false;
    sayWhatWaits(complaint);
  }
}

function take(tick) {
  add(tick);
  showTick(tick);
  sayWhatWaits();
  send();
}

form.addEventListener("submit", (event) => {
  event.preventDefault();
  take({ to: form.action, plan: form.elements.plan.value, [event.submitter.name]: event.submitter.value });
});

for (const so of document.querySelectorAll("form.so")) {
  so.addEventListener("submit", (event) => {
    event.preventDefault();
    const { csrfmiddlewaretoken, ...said } = Object.fromEntries(new FormData(so));
    take({ to: form.action, ...said });
    so.reset();
    so.closest("details").open = false;
  });
}

// What was ticked without a network and then loaded from what the phone had kept.
for (const tick of left()) showTick(tick);
sayWhatWaits();
send();
addEventListener("online", send);
setInterval(send, 15000);
navigator.serviceWorker?.register("/worker.js").catch(() => {});
