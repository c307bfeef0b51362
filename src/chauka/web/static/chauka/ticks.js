// Ticks of the market and bench lists: shown at once, kept on the phone, sent when there is a network.
// A tick is known by its plan and line, so one that is sent twice counts once.
const KEY = "chauka-ticks";
const form = document.querySelector("#ticks");
const waiting = document.querySelector("#waiting");
const left = () => JSON.parse(localStorage.getItem(KEY) ?? "[]");
const keep = (ticks) => localStorage.setItem(KEY, JSON.stringify(ticks));

function show(button, bought) {
  button.setAttribute("aria-pressed", String(bought));
  button.name = bought ? "untick" : "tick";
  button.closest("li").classList.toggle("bought", bought);
  const section = button.closest("section");
  const open = section.querySelectorAll("li:not(.bought)").length;
  section.querySelector(".to-buy").textContent = open ? `${open} ${form.dataset.open}` : form.dataset.done;
}

function sayWhatWaits(words) {
  const count = left().length;
  waiting.textContent = words ?? (count ? `${count} ${count === 1 ? "tick waits" : "ticks wait"} for the network.` : "");
}

let sending = false;
async function send() {
  if (sending) return;
  sending = true;
  try {
    while (left().length) {
      const [first, ...rest] = left();
      const { to, ...said } = first;
      const body = new URLSearchParams({ ...said, csrfmiddlewaretoken: form.elements.csrfmiddlewaretoken.value });
      const answer = await fetch(to, { method: "POST", body, headers: { Accept: "application/json" } });
      if (answer.status >= 500) throw new Error("the book does not answer");
      keep(rest);
      if (!answer.ok) {
        sayWhatWaits(answer.status === 422 ? (await answer.json()).complaint : "The list has changed; load it anew.");
        return;
      }
    }
    sayWhatWaits();
  } catch {
    sayWhatWaits();
  } finally {
    sending = false;
  }
}

form.addEventListener("submit", (event) => {
  const button = event.submitter;
  event.preventDefault();
  keep([...left(), { to: form.action, plan: form.elements.plan.value, [button.name]: button.value }]);
  show(button, button.name === "tick");
  sayWhatWaits();
  send();
});

// What was ticked without a network and then loaded from what the phone had kept.
for (const tick of left()) {
  const button = document.querySelector(`.box[value="${CSS.escape(tick.tick ?? tick.untick)}"]`);
  if (button && tick.to === form.action && tick.plan === form.elements.plan.value) show(button, "tick" in tick);
}
sayWhatWaits();
send();
addEventListener("online", send);
setInterval(send, 15000);
navigator.serviceWorker?.register("/worker.js").catch(() => {});
