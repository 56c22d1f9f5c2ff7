// Headings sort the rows of their table by their column: the better end first, the other end when
// pressed again; the first heading puts them back as they were ranked. Rows keep their words.
"use strict";
(() => {
  for (const table of document.querySelectorAll("table.matrix")) {
    const heads = [...table.tHead.rows[0].cells], ranked = [...table.querySelectorAll("tbody.one")];
    const value = (row, column) => {
      const told = row.rows[0].cells[column].dataset.value;
      return told === undefined ? null : Number(told);
    };
    const sort = (column, up) => {
      // What is not known stands last either way; equals stay as they are ranked.
      const order = !column ? ranked : [...ranked].sort((a, b) => {
        const p = value(a, column), q = value(b, column);
        return p === null || q === null ? (p === null) - (q === null) : up ? p - q : q - p;
      });
      table.append(...order);
      heads.forEach((head) => head.removeAttribute("aria-sort"));
      heads[column].setAttribute("aria-sort", !column ? "other" : up ? "ascending" : "descending");
    };
    heads.forEach((head, column) => {
      const label = head.querySelector(".sorts"), button = document.createElement("button");
      button.type = "button";
      button.append(...label.childNodes);
      label.append(button);
      button.addEventListener("click", () => {
        const now = head.getAttribute("aria-sort"), first = head.dataset.better === "less";
        sort(column, now === "ascending" ? false : now === "descending" ? true : first);
      });
    });
    heads[0].setAttribute("aria-sort", "other");
    table.classList.add("sortable");
  }
})();
