// Keeps numbers and their units on one line, for every page and all that comes onto it later.
// The one place where this is done: sentences are written, kept and compared with plain spaces.
// Leaves fields, formulas, drawings and code alone. Stands before the switch of units, which builds on it.
import { unbroken } from "./unbroken.js";

const LEFT_ALONE = "script, style, noscript, template, svg, math, mjx-container, code, pre, textarea, select, [contenteditable='true']";

const keep = (node) => {
  const text = node.data;
  const now = unbroken(text);
  if (now !== text && !node.parentElement?.closest(LEFT_ALONE)) node.data = now;
};

const walk = (root) => {
  if (root.nodeType === Node.TEXT_NODE) return keep(root);
  if (root.nodeType !== Node.ELEMENT_NODE || root.matches(LEFT_ALONE)) return;
  const walker = document.createTreeWalker(root, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) keep(walker.currentNode);
};

walk(document.body);
new MutationObserver((changes) => changes.forEach((change) => change.addedNodes.forEach(walk))).observe(document.body, { childList: true, subtree: true });
