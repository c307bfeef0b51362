// A tap on the wheel leads to the food's own page; the list beside it holds the same as links.
document.querySelector(".wheel")?.addEventListener("click", (event) => {
  const arc = event.target.closest("[data-href]");
  if (arc) location.assign(arc.dataset.href);
});
