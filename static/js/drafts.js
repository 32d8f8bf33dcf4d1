/* The form keeps itself while it is typed. The server holds it; what cannot reach the server (the network is
   away, the sign-in has ended) stays in this browser until it does. */

const SAVING_PAUSE_MS = 1200;

const form = document.querySelector("form#counter");
const place = `counter ${form.elements.draft.value}`;
let saving = 0;
let isSent = false;
let asked = null;
let isUnsaved = false;

const fields = () => new URLSearchParams(new FormData(form));

function tell(words, isUnsaved) {
  const saved = document.querySelector("#saved");
  saved.textContent = words;
  saved.classList.toggle("hand", isUnsaved);
}

/* The address leads back to the form: with the back button, after signing in again, after a crash. */
function rememberAddress() {
  const here = new URL(location.href);
  if (here.searchParams.get("draft") !== form.elements.draft.value && form.dataset.home) {
    history.replaceState(null, "", `${form.dataset.home}?draft=${form.elements.draft.value}`);
  }
}

function keepHere() {
  sessionStorage.setItem(place, fields().toString());
}

async function save() {
  if (isSent) {
    return;
  }
  asked?.abort();
  asked = new AbortController();
  const body = fields();
  try {
    const answer = await fetch(form.dataset.drafts, {
      method: "POST",
      body,
      signal: asked.signal,
      redirect: "error",
    });
    if (!answer.ok) {
      keepHere();
      tell("Not saved", true);
      return;
    }
    const found = new DOMParser().parseFromString(await answer.text(), "text/html").querySelector("#saved");
    document.querySelector("#saved").replaceWith(document.adoptNode(found));
    sessionStorage.removeItem(place);
    isUnsaved = fields().toString() !== body.toString();
    rememberAddress();
  } catch (error) {
    if (error.name !== "AbortError") {
      keepHere();
      tell("Not saved, kept here", true);
    }
  }
}

form.addEventListener("input", () => {
  isUnsaved = true;
  rememberAddress();
  clearTimeout(saving);
  saving = setTimeout(save, SAVING_PAUSE_MS);
});

/* Who leaves before the pause is over has it kept on the way out: at the server, and here should it not hear. */
window.addEventListener("pagehide", () => {
  if (isUnsaved && !isSent) {
    keepHere();
    navigator.sendBeacon(form.dataset.drafts, fields());
  }
});

/* What is on its way must not bring back a form that an order was made of. */
form.addEventListener("submit", () => {
  isSent = true;
  clearTimeout(saving);
  asked?.abort();
  keepHere();
});

window.addEventListener("pageshow", () => {
  isSent = false;
});

/* Typed where the server could not be reached, or sent when the sign-in had ended: laid over what it kept. */
const here = sessionStorage.getItem(place);
if (here !== null && !document.querySelector("#errors")) {
  for (const [name, value] of new URLSearchParams(here)) {
    const field = form.elements[name];
    if (!field || ["draft", "idempotency_key", "act", "last", "version"].includes(name)) {
      continue;
    }
    if (field.type === "checkbox") {
      field.checked = true;
    } else {
      field.value = value;
    }
  }
  form.dispatchEvent(new Event("input", { bubbles: true }));
}
sessionStorage.removeItem(place);

/* A page that answered a button has no address to come back to: it is kept, and gets that of its form. */
if (document.querySelector(".counter-errors") || location.pathname !== form.dataset.home) {
  save();
}
