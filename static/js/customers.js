/* A known customer is offered while name or phone is typed. Choosing is a button of the form, so it works
   without this module too; here only the list comes by itself, and the arrow keys walk in it. */

const TYPING_PAUSE_MS = 250;
const SHORTEST = 2;

const form = document.querySelector("form#counter");
let asked = null;
let typing = 0;

const place = () => document.querySelector("#offers");
const offers = () => [...document.querySelectorAll("#offers button")];
const isOfCustomer = (field) => field.name === "customer.name" || field.name === "customer.phone";

function clear() {
  asked?.abort();
  place()?.replaceChildren();
}

async function offer(typed) {
  asked?.abort();
  const mine = new AbortController();
  asked = mine;
  try {
    const answer = await fetch(`${form.dataset.customers}?q=${encodeURIComponent(typed)}`, {
      signal: mine.signal,
      redirect: "error",
    });
    if (!answer.ok) {
      return;
    }
    const html = await answer.text();
    if (asked === mine) {
      const found = new DOMParser().parseFromString(html, "text/html").querySelector("#offers");
      place().replaceWith(document.adoptNode(found));
      document.querySelector("#said").textContent = found.dataset.said;
    }
  } catch (error) {
    if (error.name !== "AbortError") {
      clear();
    }
  }
}

form.addEventListener("input", (event) => {
  const field = event.target;
  if (!isOfCustomer(field)) {
    return;
  }
  clearTimeout(typing);
  if (field.value.trim().length < SHORTEST) {
    clear();
    return;
  }
  typing = setTimeout(() => offer(field.value.trim()), TYPING_PAUSE_MS);
});

form.addEventListener("keydown", (event) => {
  const list = offers();
  const at = list.indexOf(event.target);
  if (list.length === 0 || (at < 0 && !isOfCustomer(event.target))) {
    return;
  }
  if (event.key === "ArrowDown") {
    event.preventDefault();
    list[Math.min(at + 1, list.length - 1)].focus();
  } else if (event.key === "ArrowUp" && at >= 0) {
    event.preventDefault();
    (at === 0 ? form.elements["customer.name"] : list[at - 1]).focus();
  } else if (event.key === "Escape") {
    form.elements["customer.name"].focus();
    clear();
  }
});
