// A cursor through all charts of the flight at once: point at one, or use the arrow keys.
"use strict";
(() => {
  const SVG = "http://www.w3.org/2000/svg";
  const add = (parent, name, attributes) => {
    const made = document.createElementNS(SVG, name);
    for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
    parent.append(made);
    return made;
  };
  const readable = (value) => {
    if (!value) return "0";
    const digits = Math.max(0, 3 - Math.floor(Math.log10(Math.abs(value))));
    const text = value.toFixed(Math.min(digits, 3)).replace("-", "−");
    const [whole, part] = text.split(".");
    return whole.replace(/\B(?=(\d{3})+$)/g, "\u2009") + (part ? "." + part : "");
  };
  const chart = (svg) => {
    const [wide, high, until, low, top] = svg.dataset.axes.split(" ").map(Number);
    const curve = svg.querySelector(".mark-line path");
    if (!curve) return null;
    const numbers = curve.getAttribute("d").match(/-?\d*\.?\d+(?:e-?\d+)?/g).map(Number);
    const points = [];
    for (let i = 0; i + 1 < numbers.length; i += 2) points.push([numbers[i], numbers[i + 1]]);
    const plot = curve.closest(".mark-group g, .role-frame") || curve.parentNode.parentNode;
    const cursor = add(plot, "g", { class: "cursor", "pointer-events": "none" });
    const rule = add(cursor, "line", { y1: -4, y2: high, class: "cursor-rule" });
    const dot = add(cursor, "circle", { r: 4, class: "cursor-dot" });
    const words = add(cursor, "text", { x: wide, y: -27, "text-anchor": "end", class: "cursor-words" });
    const heightAt = (x) => {
      let i = points.findIndex((point) => point[0] >= x);
      if (i < 0) return points.at(-1)[1];
      if (i === 0) return points[0][1];
      const [one, other] = [points[i - 1], points[i]];
      const share = other[0] > one[0] ? (x - one[0]) / (other[0] - one[0]) : 1;
      return one[1] + share * (other[1] - one[1]);
    };
    return {
      until,
      time: (event) => {
        const inverse = plot.getScreenCTM().inverse();
        const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(inverse);
        return (Math.min(Math.max(at.x, 0), wide) / wide) * until;
      },
      show: (time) => {
        const x = (time / until) * wide;
        const y = heightAt(x);
        const value = low + ((high - y) / high) * (top - low);
        rule.setAttribute("x1", x);
        rule.setAttribute("x2", x);
        dot.setAttribute("cx", x);
        dot.setAttribute("cy", y);
        words.textContent = `${time.toFixed(0)} s: ${readable(value)} ${svg.dataset.unit}`;
        svg.classList.add("read");
        return words.textContent;
      },
      hide: () => svg.classList.remove("read"),
    };
  };
  for (const group of document.querySelectorAll("[data-moments]")) {
    const pictures = [...group.querySelectorAll("svg[data-axes]")];
    const charts = pictures.map(chart);
    const known = charts.filter(Boolean);
    if (!known.length) continue;
    let time = 0;
    const show = (moment) => {
      time = Math.min(Math.max(moment, 0), known[0].until);
      for (const one of known) one.show(time);
    };
    pictures.forEach((svg, i) => {
      if (charts[i]) svg.addEventListener("pointermove", (event) => show(charts[i].time(event)));
    });
    group.addEventListener("pointerleave", () => known.forEach((one) => one.hide()));
    group.addEventListener("focusout", () => known.forEach((one) => one.hide()));
    group.addEventListener("keydown", (event) => {
      const step = known[0].until / (event.shiftKey ? 20 : 200);
      if (event.key === "ArrowRight") show(time + step);
      else if (event.key === "ArrowLeft") show(time - step);
      else if (event.key === "Home") show(0);
      else if (event.key === "End") show(known[0].until);
      else if (event.key === "Escape") known.forEach((one) => one.hide());
      else return;
      event.preventDefault();
    });
  }
})();
