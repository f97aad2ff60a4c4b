// Readies every view that stands in a page: its still stays until the reader asks to turn it.

for (const figure of document.querySelectorAll("[data-view]")) {
  const packed = figure.querySelector("script[type='application/json']");
  const holder = figure.querySelector(".view-holder");
  const button = figure.querySelector(".view-open");
  const drawn = figure.querySelector(".view-still");
  const settled = () => {
    drawn.hidden = false;
    button.hidden = false;
    button.focus();
  };
  button.hidden = false;
  button.addEventListener("click", () => {
    drawn.hidden = true;
    button.hidden = true;
    figure.view = openView(holder, openBody(JSON.parse(packed.textContent)), { name: figure.dataset.view, note: figure.dataset.note, closed: settled });
    figure.view.stage.focus();
  });
}
