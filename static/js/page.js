/* On every page: the focus goes to what is to put right, and a form goes out once. */

const first = document.querySelector("[data-focus-first]");
if (first) {
  first.focus();
}

/* A page that answered a form takes the address where it is found again, so that the back button finds it. */
const own = document.querySelector("[data-own]");
if (own) {
  history.replaceState(null, "", own.dataset.own);
}

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
