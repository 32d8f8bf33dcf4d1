"""What of a page lies on what: every line of text and every field in its box, in the browser itself."""

from playwright.sync_api import Page

WIDTHS = (320, 390, 820, 1280)
BOXES = """() => {
  const out = [], isSeen = one => {
    for (let at = one; at; at = at.parentElement) {
      const style = getComputedStyle(at);
      if (style.display === "none" || style.visibility !== "visible" || style.opacity === "0") return false;
      if (at.matches("details:not([open]) > :not(summary)")) return false;
      if (at.matches(".out-of-sight, .skip, svg, noscript")) return false;
    }
    return true;
  };
  const cut = (box, one) => {
    let [left, top, right, bottom] = box;
    for (let at = one; at; at = at.parentElement) {
      const style = getComputedStyle(at);
      if (style.overflowX === "visible" && style.overflowY === "visible") continue;
      const edge = at.getBoundingClientRect();
      left = Math.max(left, edge.left); right = Math.min(right, edge.right);
      top = Math.max(top, edge.top); bottom = Math.min(bottom, edge.bottom);
    }
    return right - left > 1 && bottom - top > 1 ? [left, top, right, bottom] : null;
  };
  let count = 0;
  const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node = texts.nextNode(); node; node = texts.nextNode()) {
    const holder = node.parentElement;
    if (!node.data.trim() || !isSeen(holder) || holder.closest("select, textarea")) continue;
    const range = document.createRange();
    range.selectNodeContents(node);
    count += 1;
    for (const line of range.getClientRects()) {
      const quarter = line.height / 4; // a line's box is as high as its font says, more than its letters
      const box = cut([line.left, line.top + quarter, line.right, line.bottom - quarter], holder);
      if (box) out.push([count, node.data.trim().slice(0, 30), ...box]);
    }
  }
  for (const field of document.querySelectorAll("input, select, textarea, button, summary")) {
    if (field.type === "hidden" || !isSeen(field)) continue;
    if (getComputedStyle(field).position === "absolute") continue;
    count += 1;
    const edge = field.getBoundingClientRect();
    const box = cut([edge.left + 1, edge.top + 1, edge.right - 1, edge.bottom - 1], field.parentElement);
    if (box && !field.textContent.trim()) out.push([count, field.name || field.tagName, ...box]);
  }
  const found = [];
  out.sort((a, b) => a[3] - b[3]);
  for (let a = 0; a < out.length; a += 1)
    for (let b = a + 1; b < out.length && out[b][3] < out[a][5] - 1; b += 1)
      if (out[a][0] !== out[b][0] && out[a][4] - 1 > out[b][2] && out[b][4] - 1 > out[a][2])
        found.push(`'${out[a][1]}' on '${out[b][1]}'`);
  const over = [...document.querySelectorAll("body *")].filter(
    one => one.getBoundingClientRect().right > innerWidth + 1 && isSeen(one));
  const wide = document.documentElement.scrollWidth > innerWidth;
  return [out.length, [...new Set(found)].slice(0, 6),
    wide ? over.slice(0, 4).map(one => `${one.tagName} ${one.className}`).concat("sideways") : []];
}"""


def what_lies_wrong(page: Page) -> list[str]:
    """Texts on texts or on fields, and what goes off sideways, at each of the widths."""
    found = []
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 900})
        count, on, off = page.evaluate(BOXES)
        assert count > 0
        found += [f"{width} px: {told}" for told in (*on, *off)]
    return found
