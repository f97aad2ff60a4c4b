// Elements and numbers, as every script of the page writes them.

/** One element with attributes, listeners (`on…`) and children; texts are never read as HTML. */
function el(tag, attributes = {}, ...children) {
  const node = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value === undefined || value === null || value === false) continue;
    if (name.startsWith("on")) node.addEventListener(name.slice(2), value);
    else node.setAttribute(name, value === true ? "" : value);
  }
  node.append(...children.flat().filter((child) => child !== null && child !== undefined));
  return node;
}

const whole = (number) => number.toLocaleString("en-GB");
const count = (number, one, many = `${one}s`) => `${whole(number)} ${number === 1 ? one : many}`;
const minus = (number) => String(number).replaceAll("-", "−");
