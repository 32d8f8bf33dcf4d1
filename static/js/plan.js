/* While a better cutting plan is sought, the page asks for it now and then and lays it over what stands. */

const PAUSE_MS = 1500;

function waits() {
  const part = document.querySelector("#week-plan");
  return part && part.dataset.searching === "yes" ? part : null;
}

async function look() {
  const part = waits();
  if (!part) {
    return;
  }
  try {
    const answer = await fetch(part.dataset.href, { redirect: "error" });
    const html = answer.ok ? await answer.text() : "";
    const found = new DOMParser().parseFromString(html, "text/html").querySelector("#week-plan");
    const isInUse = part.contains(document.activeElement) || part.querySelector("details[open]");
    if (found && !isInUse) {
      part.replaceWith(document.adoptNode(found));
    }
  } catch {
    /* The app is away for a moment: what stands is good, and the next look may succeed. */
  }
  setTimeout(look, PAUSE_MS);
}

setTimeout(look, PAUSE_MS);
