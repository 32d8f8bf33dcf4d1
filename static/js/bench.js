/* At the bench: the clock runs, and a save that got no answer is sent again under the same key until it has
   one. The server does a key once, so nothing is done twice; until then the fields stay as they were typed. */

const WAITS_MS = [1000, 2000, 4000, 8000, 15000];
const ANSWER_WITHIN_MS = 10000;
const SENT_AGAIN = new Set([429, 502, 503, 504]);

let isPending = false;

function say(sentence, { isWrong = false, href = "" } = {}) {
  const line = document.querySelector("#bench-saved");
  line.textContent = sentence;
  line.classList.toggle("hand", isWrong);
  if (href) {
    const link = document.createElement("a");
    link.href = href;
    link.className = "bench-link";
    link.textContent = "Type the PIN";
    line.append(" ", link);
  }
  if (isWrong) {
    line.scrollIntoView({ block: "nearest" });
  }
}

function hold(form, isHeld) {
  isPending = isHeld;
  for (const field of form.querySelectorAll("input:not([type=hidden])")) {
    field.readOnly = isHeld;
  }
  for (const button of form.querySelectorAll("button")) {
    button.setAttribute("aria-disabled", String(isHeld));
  }
}

function pause(ms) {
  return new Promise((resolve) => {
    const timer = setTimeout(resolve, ms);
    window.addEventListener("online", () => { clearTimeout(timer); resolve(); }, { once: true });
  });
}

async function answerTo(form, body) {
  for (let tried = 0; ; tried += 1) {
    try {
      const answer = await fetch(form.action, { method: "POST", body, signal: AbortSignal.timeout(ANSWER_WITHIN_MS) });
      if (!SENT_AGAIN.has(answer.status)) {
        return { answer, html: await answer.text() };
      }
    } catch {
      // no answer: whether it was saved is not known, so the same is sent again
    }
    say("Not saved yet. It is sent again by itself.", { isWrong: true });
    await pause(WAITS_MS[Math.min(tried, WAITS_MS.length - 1)]);
  }
}

function layOver(fresh, url) {
  document.title = fresh.title;
  document.body.replaceWith(document.adoptNode(fresh.body));
  history.replaceState(null, "", document.querySelector("[data-own]")?.dataset.own ?? url);
  document.dispatchEvent(new Event("laid-over"));
  window.scrollTo(0, 0);
  (document.querySelector("[data-focus-first]") ?? document.querySelector("main")).focus({ preventScroll: true });
  startClock();
}

async function send(form, button) {
  const body = new URLSearchParams(new FormData(form, button));
  hold(form, true);
  say("Saving");
  const { answer, html } = await answerTo(form, body);
  hold(form, false);
  const fresh = new DOMParser().parseFromString(html, "text/html");
  if (fresh.querySelector(".bench-sides")) {
    layOver(fresh, answer.url);
  } else if (answer.redirected) {
    say("Not saved: the PIN is asked again. Then come back and press once more.", { isWrong: true, href: answer.url });
  } else {
    const words = [...fresh.querySelectorAll("main h1, main h1 + p")].map((one) => one.textContent).join(". ");
    say(`Not saved. ${words}`, { isWrong: true });
  }
}

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!form.matches(".bench-form") || form.enctype === "multipart/form-data") {
    return;
  }
  event.preventDefault();
  if (!isPending) {
    send(form, event.submitter);
  }
});

window.addEventListener("beforeunload", (event) => {
  if (isPending) {
    event.preventDefault();
  }
});

/* The clock shows what the server told, and goes on from there. */
let ticking = 0;

function startClock() {
  clearInterval(ticking);
  const face = document.querySelector('.bench-time[data-runs="yes"]');
  if (!face) {
    return;
  }
  const began = performance.now() - Number(face.dataset.seconds) * 1000;
  ticking = setInterval(() => {
    const seconds = Math.floor((performance.now() - began) / 1000);
    const two = (number) => String(number).padStart(2, "0");
    const minutes = `${two(Math.floor(seconds / 60) % 60)}:${two(seconds % 60)}`;
    const hours = Math.floor(seconds / 3600);
    face.textContent = hours ? `${hours}:${minutes}` : minutes;
  }, 1000);
}

startClock();
