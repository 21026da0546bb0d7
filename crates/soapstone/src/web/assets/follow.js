// Makes a part of the page like a fresh one from the server, touching only what differs: a drag changes a few hundred
// of some thousand nodes, and what is not touched is neither styled nor laid out again. Focus and scrolling stay.

/**
 * @param {Element} old Part of the page.
 * @param {Element} fresh What it is to be like; used up.
 */
export function follow(old, fresh) {
  // What is on its way to the file, or was refused, is the reader's: it stays, with the reason below it.
  if (old.matches("[data-cell]") && old.querySelector("[data-writing], [data-refused]")) return;
  // What another answer says stays as it is.
  if (fresh.hasAttribute("data-left")) {
    for (const name of ["data-late", "data-still"]) old.toggleAttribute(name, fresh.hasAttribute(name));
    return;
  }
  // The browser's own comparison is many times quicker than walking on.
  if (old.isEqualNode(fresh)) {
    const wanted = fresh.querySelectorAll("input, option");
    if (wanted.length > 0) old.querySelectorAll("input, option").forEach((own, i) => field(own, wanted[i]));
    return field(old, fresh);
  }
  attributes(old, fresh);
  let at = old.firstChild;
  let next = fresh.firstChild;
  while (next) {
    const after = next.nextSibling;
    at = placed(at, next);
    if (!at) old.append(next);
    else if (named(at) !== named(next)) old.insertBefore(next, at);
    else {
      const beyond = at.nextSibling;
      if (at.nodeName !== next.nodeName) at.replaceWith(next);
      else if (at instanceof Element) follow(at, /** @type {Element} */ (next));
      else if (at.nodeValue !== next.nodeValue) at.nodeValue = next.nodeValue;
      at = beyond;
    }
    next = after;
  }
  while (at) {
    const beyond = at.nextSibling;
    at.remove();
    at = beyond;
  }
  field(old, fresh);
}

/**
 * Does one change to a part; whether it could be done.
 * @param {Element} part @param {import("./line.js").Change} what
 */
export function change(part, what) {
  /** @type {Node | undefined} */
  let node = part;
  for (const i of what.at) node = node?.childNodes[i];
  if (what.text !== undefined && node instanceof Text) node.data = what.text;
  else if (node instanceof Element && what.text === undefined) {
    for (const [name, value] of what.set ?? []) {
      if (value === null) node.removeAttribute(name);
      else node.setAttribute(name, value);
    }
    if (what.like !== undefined) follow(node, read(what.like, node));
  } else return false;
  return true;
}

/** An element from its markup, of the same kind as another one. @param {string} markup @param {Element} kin */
function read(markup, kin) {
  const template = document.createElement("template");
  const inside = kin instanceof SVGElement && kin.parentNode instanceof SVGElement;
  template.innerHTML = inside ? `<svg>${markup}</svg>` : markup;
  const first = template.content.firstElementChild;
  return (inside ? first?.firstElementChild : first) ?? kin;
}

/** What a node is about, where it says so: two of one kind with other names are not the same thing. @param {Node} node */
function named(node) {
  if (!(node instanceof HTMLElement)) return "";
  return node.id || node.dataset.path || node.dataset.row || node.dataset.result || "";
}

/**
 * Where the thing that a fresh node is about stands now, from a place on; what stood before it goes. The place itself where
 * there is no such thing.
 * @param {ChildNode | null} at @param {Node} next
 */
function placed(at, next) {
  const name = named(next);
  if (!at || name === "" || named(at) === name) return at;
  let found = at.nextSibling;
  while (found && named(found) !== name) found = found.nextSibling;
  if (!found) return at;
  let gone = /** @type {ChildNode | null} */ (at);
  while (gone && gone !== found) {
    const beyond = /** @type {ChildNode | null} */ (gone.nextSibling);
    gone.remove();
    gone = beyond;
  }
  return found;
}

/** @param {Element} old @param {Element} fresh */
function attributes(old, fresh) {
  const wanted = fresh.getAttributeNames();
  for (const name of wanted) {
    const value = fresh.getAttribute(name) ?? "";
    if (old.getAttribute(name) !== value) old.setAttribute(name, value);
  }
  const own = old.getAttributeNames();
  if (own.length === wanted.length) return;
  for (const name of own) if (!fresh.hasAttribute(name)) old.removeAttribute(name);
}

/** What a field shows is no attribute of it. The one with the focus keeps what the reader has typed or chosen. @param {Element} old @param {Element} fresh */
function field(old, fresh) {
  const focus = document.activeElement;
  if (old instanceof HTMLInputElement && fresh instanceof HTMLInputElement) {
    if (old !== focus && old.value !== fresh.value) old.value = fresh.value;
  } else if (old instanceof HTMLOptionElement && old.closest("select") !== focus) {
    const chosen = fresh.hasAttribute("selected");
    if (chosen && !old.selected) old.selected = true;
  }
}
