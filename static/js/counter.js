/* The ring is redrawn while it is typed. Every figure comes from the server, the same that a plain submit
   gives: this module sends the form, and lays the answer over what stood before. */

const TYPING_PAUSE_MS = 200;
const SAYING_PAUSE_MS = 900;

const form = document.querySelector("form#counter");
const said = document.querySelector("#said");
let asked = null;
let typing = 0;
let saying = 0;

function layOver(html) {
  const answer = new DOMParser().parseFromString(html, "text/html");
  for (const part of answer.querySelectorAll("[data-swap]")) {
    const old = document.getElementById(part.id);
    const isInUse = old && old.contains(document.activeElement);
    if (old && !isInUse && old.outerHTML !== part.outerHTML) {
      old.replaceWith(document.adoptNode(part));
    }
  }
}

function say(sentence) {
  clearTimeout(saying);
  saying = setTimeout(() => {
    if (said.textContent !== sentence) {
      said.textContent = sentence;
    }
  }, SAYING_PAUSE_MS);
}

/* Figures that no longer belong to what is typed must not look as if they did. */
function tellStale(why) {
  const line = document.querySelector("#reckoned .finish");
  line.textContent = `The figures are from before: ${why}`;
  line.classList.add("hand");
  say(line.textContent);
}

async function reckon() {
  asked?.abort();
  const mine = new AbortController();
  asked = mine;
  try {
    const answer = await fetch(form.dataset.figures, {
      method: "POST",
      body: new URLSearchParams(new FormData(form)),
      signal: mine.signal,
      redirect: "error",
    });
    if (!answer.ok) {
      tellStale("the new ones could not be reckoned.");
      return;
    }
    const html = await answer.text();
    if (asked === mine) {
      layOver(html);
      say(document.querySelector("#reckoned").dataset.said);
    }
  } catch (error) {
    if (error.name !== "AbortError") {
      tellStale("the book does not answer. What you typed stands; try again in a moment.");
    }
  }
}

form.addEventListener("input", () => {
  clearTimeout(typing);
  typing = setTimeout(reckon, TYPING_PAUSE_MS);
});

/* A page taken back with what was typed into it gets its figures again. */
window.addEventListener("pageshow", () => {
  const [arrival] = performance.getEntriesByType("navigation");
  if (arrival && arrival.type !== "navigate") {
    reckon();
  }
});

/* At the desk the first word goes to the customer's name; on a phone the drawing stays in sight. */
const first = form.elements["customer.name"];
if (first && !first.value && document.activeElement === document.body && matchMedia("(width >= 1240px)").matches) {
  first.focus();
}
