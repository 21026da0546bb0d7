// The page's address is its state. These read it and write it.

/** The query of the page as it is now. @returns {URLSearchParams} */
export function query() {
  return new URLSearchParams(location.search);
}

/**
 * The query with some fields set; null takes a field out.
 * @param {Record<string, string | null>} fields
 * @returns {URLSearchParams}
 */
export function withFields(fields) {
  const out = query();
  for (const [name, value] of Object.entries(fields)) {
    if (value === null) out.delete(name);
    else out.set(name, value);
  }
  return out;
}

/** A fact that the server wrote into the head of the page. @param {string} name */
export function fact(name) {
  return document.querySelector(`meta[name="soapstone-${name}"]`)?.getAttribute("content") ?? "";
}

/**
 * Tells the reader something, in words that a screen reader says too.
 * @param {string} words
 * @param {{ firm?: boolean }} how A firm word, of what went wrong, is not talked over by other news.
 */
export function say(words, { firm = false } = {}) {
  const place = document.getElementById("said");
  if (!place || !words || (place.hasAttribute("data-firm") && !firm)) return;
  place.textContent = words;
  place.classList.add("shown");
  place.toggleAttribute("data-firm", firm);
  clearTimeout(Number(place.dataset.timer));
  const quiet = () => (place.classList.remove("shown"), place.removeAttribute("data-firm"));
  place.dataset.timer = String(setTimeout(quiet, firm ? 12000 : 6000));
}
