// Taps at the stove that found no network: kept with their moment, shown at once, sent when it is back.
const KEY = "chauka-taps";
const MORE_MS = 5 * 60 * 1000;
const left = () => JSON.parse(localStorage.getItem(KEY) ?? "[]");
const store = (taps) => localStorage.setItem(KEY, JSON.stringify(taps));

// What the page shows until the book answers: a step begun runs, one done is gone, one with more time runs longer.
function asIfDone(part, deed, moment) {
  const button = part.querySelector(`button[value="${CSS.escape(deed)}"]`);
  const step = button?.closest(".step");
  if (!step) return;
  const [did] = deed.split(" ");
  if (did === "begin") {
    step.classList.remove("next");
    step.dataset.ends = new Date(moment + Number(step.dataset.minutes) * 60000).toISOString();
    step.dataset.key = `${deed}-${moment}`;
    delete step.dataset.starts;
    button.closest(".buttons").insertAdjacentHTML("beforebegin", '<p class="left" role="timer"></p>');
    button.value = deed.replace("begin", "done");
    button.textContent = part.dataset.done;
  } else if (did === "more") {
    step.dataset.ends = new Date(new Date(step.dataset.ends).getTime() + MORE_MS).toISOString();
  } else if (did === "done" || did === "skip") {
    step.remove();
  }
}

function say(part) {
  const waits = part?.querySelector("#waiting");
  const count = left().length;
  if (waits) waits.textContent = count ? part.dataset.waits.replace("#", count) : "";
}

let sending = false;

export const unsent = {
  show(part) {
    for (const tap of left()) if (tap.to === part.action) asIfDone(part, tap.deed, tap.moment);
    say(part);
  },

  keep(failed, bookNow, part, tick) {
    const deed = failed.requestConfig?.parameters?.deed ?? failed.requestConfig?.formData?.get("deed");
    if (failed.requestConfig?.verb !== "post" || !deed || !part) return;
    const tap = { id: `${Date.now()}-${Math.random()}`, to: part.action, deed, at: Date.now(), moment: bookNow() };
    store([...left(), tap]);
    asIfDone(part, deed, tap.moment);
    say(part);
    tick();
  },

  async send(part) {
    if (sending || !part || !left().length) return;
    sending = true;
    try {
      while (left().length) {
        const [tap] = left();
        const ago = Math.round((Date.now() - tap.at) / 1000);
        const token = part.querySelector("[name=csrfmiddlewaretoken]").value;
        const body = new URLSearchParams({ deed: tap.deed, ago, csrfmiddlewaretoken: token });
        const answer = await fetch(tap.to, { method: "POST", body, headers: { "HX-Request": "true" } });
        if (answer.status >= 500 || answer.status === 403) throw new Error("the book does not answer");
        store(left().filter((one) => one.id !== tap.id)); // a refused tap is of an evening that is over
      }
      window.htmx.ajax("GET", part.action.replace(/deed$/, "live"), { target: "#live", swap: "outerHTML" });
    } catch {
      // what waits is kept
    } finally {
      sending = false;
      say(part);
    }
  },
};
