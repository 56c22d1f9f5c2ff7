// Within each answer the one page draws: where its reader is, kept while the same answer is drawn anew with ranges, and
// what it shows for the paper.
"use strict";
(() => {
  const folds = () => [...document.querySelectorAll("details")];
  let waiting = 0;
  const tell = () => {
    clearTimeout(waiting);
    waiting = setTimeout(() => parent.postMessage({ place: { top: scrollY,
      open: folds().map((fold, i) => (fold.open ? i : -1)).filter((i) => i >= 0) } }, "*"), 50);
  };
  addEventListener("scroll", tell, { passive: true });
  document.addEventListener("toggle", tell, true);
  addEventListener("message", ({ data, source }) => {
    if (source !== parent) return;
    if (data.place) {
      folds().forEach((fold, i) => { fold.open = data.place.open.includes(i); });
      scrollTo(0, data.place.top);
    }
    if (data.paper) {
      dispatchEvent(new Event("beforeprint"));  // in the colours of paper
      setTimeout(() => {
        const main = document.querySelector("main"), copy = main.cloneNode(true);
        const canvases = main.querySelectorAll("canvas");
        copy.querySelectorAll("canvas").forEach((canvas, i) => {
          const image = new Image();
          image.src = canvases[i].toDataURL();
          image.alt = canvas.getAttribute("aria-label") ?? "";
          canvas.replaceWith(image);
        });
        dispatchEvent(new Event("afterprint"));
        parent.postMessage({ paper: copy.outerHTML }, "*");
      }, 100);
    }
  });
})();
