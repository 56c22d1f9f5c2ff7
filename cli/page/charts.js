// What the library of charts is told to draw: series and bars of the page's data block.
"use strict";
(() => {
  const data = JSON.parse(document.getElementById("data").textContent);
  const dark = window.matchMedia("(prefers-color-scheme: dark)");
  const dashes = [[], [8, 4], [2, 3], [10, 3, 2, 3], [14, 4], [5, 2]];
  const marks = ["circle", "rect", "triangle", "rectRot", "cross", "star"];
  let drawn = [];
  // Letters as large beside those of the page on every screen.
  Chart.defaults.font.size = 0.75 * parseFloat(getComputedStyle(document.documentElement).fontSize);

  // Colours told apart by colour-blind readers (M. Okabe and K. Ito), lighter on a dark ground.
  const looks = (onDark) => onDark
    ? { text: "#e6e9ec", line: "#3b444c", grey: "#a9b3bc", warned: "#ff8f7a",
        series: ["#6db6e8", "#ff9a4d", "#4fd1a5", "#f0a0cc", "#f2c14e", "#b8a2ff"] }
    : { text: "#1d2125", line: "#d5dbe0", grey: "#55606b", warned: "#b3261e",
        series: ["#0072b2", "#c24e00", "#00785a", "#a8467f", "#8a6500", "#5e3fb3"] };
  const faint = (colour) => colour + "33";

  const axis = (title, look, more) => ({
    title: { display: title !== "", text: title, color: look.text },
    ticks: { color: look.text, format: { useGrouping: false } },
    grid: { color: look.line }, border: { color: look.line }, ...more,
  });
  // What all pictures have in common: they hold still, fill their frame, and their key shows each
  // line with its dashes.
  const plain = (config, look) => {
    const own = Chart.defaults.plugins.legend.labels.generateLabels;
    const legend = { position: "bottom", labels: {
      color: look.text, usePointStyle: true, boxWidth: 10, boxHeight: 8, pointStyleWidth: 30,
      filter: (item, all) => !all.datasets[item.datasetIndex].hidden_in_legend,
      generateLabels: (chart) => own(chart).map((item) => {
        const set = chart.data.datasets[item.datasetIndex];
        return set.pointStyle === "line"
          ? { ...item, lineDash: set.borderDash, lineWidth: set.borderWidth } : item;
      }) } };
    config.options = { animation: false, responsive: true, maintainAspectRatio: false,
      ...config.options };
    config.options.plugins = { legend, ...config.options.plugins };
    return config;
  };

  // A number as it is read, with the unit that stands behind the comma of its axis.
  const read = (value, title) =>
    [Number(value.toPrecision(4)), title.includes(", ") ? title.split(", ").pop() : ""].join(" ").trim()
      .replace("-", "\u2212");
  const lines = (chart, look) => {
    const datasets = [];
    chart.series.forEach((s, i) => {
      const colour = s.ink ? look.text : s.grey ? look.grey : s.warned ? look.warned
        : look.series[(s.colour ?? i) % look.series.length];
      if (s.low && s.high) {
        datasets.push({ data: s.low, borderWidth: 0, pointRadius: 0, hidden_in_legend: true });
        datasets.push({ data: s.high, borderWidth: 0, pointRadius: 0, fill: "-1",
          backgroundColor: faint(colour), hidden_in_legend: true });
      }
      datasets.push({
        label: s.name, data: s.points, borderColor: colour, backgroundColor: colour,
        borderWidth: s.width ?? 2, borderDash: dashes[(s.dash ?? i) % dashes.length],
        showLine: !s.marks, order: s.marks ? 0 : 1, pointRadius: s.marks ? 6 : (s.dots ? 4 : 0),
        pointStyle: s.marks || s.dots ? marks[(s.mark ?? i) % marks.length] : "line", tension: 0, hidden_in_legend: !!s.unnamed,
      });
    });
    return plain({
      type: "line", data: { datasets },
      options: {
        interaction: { mode: "nearest", intersect: false },
        plugins: { tooltip: {
          filter: (item) => item.dataset.label !== undefined,
          callbacks: {
            title: (items) => items.length ? read(items[0].parsed.x, chart.x) : "",
            label: (item) => `${item.dataset.label}: ${read(item.parsed.y, chart.y)}` },
        } },
        scales: {
          x: axis(chart.x, look, { type: "linear", min: chart.xmin, max: chart.xmax }),
          y: axis(chart.y, look, { min: chart.ymin, max: chart.ymax, reverse: !!chart.reverse }),
        },
      },
    }, look);
  };

  const bars = (chart, look) => plain({
    type: "bar",
    data: { labels: chart.labels, datasets: chart.series.map((s, i) => ({
      label: s.name, data: s.values, backgroundColor: look.series[i % look.series.length] })) },
    options: {
      indexAxis: "y",
      scales: { x: axis(chart.x, look, {}), y: axis("", look, {}) },
      plugins: { legend: { display: chart.series.length > 1, labels: { color: look.text } } },
    },
  }, look);

  const kinds = { lines, bars };
  const draw = (onDark) => {
    drawn.forEach((c) => c.destroy());
    const look = looks(onDark);
    drawn = (data.charts || []).map((chart) => {
      const canvas = document.getElementById(chart.id), frame = canvas.parentElement;
      frame.style.minHeight = "";
      const made = new Chart(canvas, kinds[chart.kind](chart, look));
      // Its key may take many lines on a phone, and gets at most half of the frame: the picture
      // itself keeps its height.
      const least = frame.classList.contains("low") || frame.closest(".small") ? 0 : 240;
      for (let round = 0; round < 4; round++) {
        const lacks = least - (made.chartArea.bottom - made.chartArea.top);
        if (lacks <= 0) break;
        frame.style.minHeight = `${frame.clientHeight + lacks}px`;
        made.resize();
      }
      return made;
    });
  };
  window.loadline = { data, looks, axis, plain, dark };
  draw(dark.matches);
  dark.addEventListener("change", (e) => draw(e.matches));
  // What opens on a screen is open on paper, in browsers too that cannot style what is closed.
  window.addEventListener("beforeprint", () => {
    for (const closed of document.querySelectorAll("details:not([open])")) {
      closed.open = true;
      window.addEventListener("afterprint", () => { closed.open = false; }, { once: true });
    }
  });
  window.addEventListener("beforeprint", () => draw(false));
  window.addEventListener("afterprint", () => draw(dark.matches));
})();
