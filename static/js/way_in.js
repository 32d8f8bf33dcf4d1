/* Shows what is typed into a passphrase, if asked to. Without script the field is just hidden as always. */

/* After a try that failed the name stands, so the passphrase is what to type again. */
if (document.getElementById("wrong")) {
  document.querySelector('[type="password"]').focus();
}

for (const button of document.querySelectorAll("[data-shows]")) {
  const field = document.getElementById(button.dataset.shows);
  button.hidden = false;
  button.addEventListener("click", () => {
    const isShown = field.type === "text";
    field.type = isShown ? "password" : "text";
    button.setAttribute("aria-pressed", String(!isShown));
    button.textContent = isShown ? "Show what I type" : "Hide what I type";
    field.focus();
  });
  field.form.addEventListener("submit", () => {
    field.type = "password"; /* so that the browser offers to keep it, and not as a word to complete */
  });
}
