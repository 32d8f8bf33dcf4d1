/* On every page: the focus goes to what is to put right, and a form goes out once. */

const first = document.querySelector("[data-focus-first]");
if (first) {
  first.focus();
}

/* A page that answered a form takes the address where it is found again, so that the back button finds it. */
const own = document.querySelector("[data-own]");
history.replaceState(history.state, "", own?.dataset.own ?? location.href);

/* What is typed stays with its place in the history: come back to, it stands in its field again. What the form
   was filled in on stays with it, so that nobody's newer words are written over unseen. The counter keeps its
   form itself, and a passphrase is kept nowhere. */
const TYPING_PAUSE_MS = 200;
const typed = new Map();
let typing = 0;
let remembered = -TYPING_PAUSE_MS; // the first sign is remembered at once

function isKept(field) {
  const { form } = field;
  return (
    Boolean(field.id && form && form.method === "post" && form.id !== "counter") &&
    !form.querySelector('[type="password"]') &&
    field.matches("input:not([type=hidden], [type=file]), select, textarea")
  );
}

function remember() {
  clearTimeout(typing);
  remembered = performance.now();
  history.replaceState({ at: location.pathname, typed: Object.fromEntries(typed) }, "");
}

function take(field) {
  const filled = [...field.form.querySelectorAll('[type="hidden"]:not([name="idempotency_key"])')];
  typed.set(field.id, { value: field.value, on: filled.map(({ name, value }) => [name, value]) });
}

function layBack() {
  for (const [id, { value, on }] of Object.entries(history.state.typed)) {
    const field = document.getElementById(id);
    if (field && isKept(field) && field.value !== value) {
      field.value = value;
      for (const [name, stood] of on) {
        field.form.elements[name].value = stood;
      }
      field.closest("details")?.setAttribute("open", "");
      take(field);
    }
  }
}

if (history.state?.typed && history.state.at === location.pathname) {
  layBack();
}
if (own?.dataset.typed) {
  own.dataset.typed
    .split(" ")
    .flatMap((name) => [...document.getElementsByName(name)])
    .filter(isKept)
    .forEach(take);
  remember();
}

document.addEventListener("input", ({ target }) => {
  if (isKept(target)) {
    take(target);
    clearTimeout(typing);
    const rest = TYPING_PAUSE_MS - (performance.now() - remembered);
    if (rest > 0) {
      typing = setTimeout(remember, rest);
    } else {
      remember();
    }
  }
});

document.addEventListener("change", ({ target }) => {
  if (isKept(target)) {
    remember();
  }
});

/* A step within the page is a place in the history of its own. */
window.addEventListener("hashchange", () => {
  if (typed.size > 0) {
    remember();
  }
});

/* A page that was laid over this one begins with nothing typed. */
document.addEventListener("laid-over", () => {
  clearTimeout(typing);
  typed.clear();
});

/* The server keeps one order for one key whatever happens here; this only spares a second press its wait. */
document.addEventListener("submit", (event) => {
  const form = event.target;
  const button = event.submitter;
  if (form.dataset.isSending === "yes") {
    event.preventDefault();
    return;
  }
  if (form.method === "post" && button?.dataset.sending) {
    form.dataset.isSending = "yes";
    button.dataset.words = button.textContent;
    button.textContent = button.dataset.sending;
    button.setAttribute("aria-disabled", "true");
  }
});

/* A page taken back from the browser's memory can be sent again. */
window.addEventListener("pageshow", () => {
  for (const form of document.querySelectorAll('form[data-is-sending="yes"]')) {
    delete form.dataset.isSending;
    for (const button of form.querySelectorAll("[data-words]")) {
      button.textContent = button.dataset.words;
      button.removeAttribute("aria-disabled");
      delete button.dataset.words;
    }
  }
});

/* The name of the chosen drawing stands above its row. */
document.addEventListener("change", (event) => {
  const row = event.target.closest(".radio-row");
  if (row) {
    row.querySelector("[data-chosen-name]").textContent = event.target.getAttribute("aria-label");
  }
});
