// Draws the curve of a sum from its points: axes, the reader's own point and limits. Colours come from the page's style.

const SVG = "http://www.w3.org/2000/svg";
const SIZES = { wide: { width: 560, height: 300 }, narrow: { width: 330, height: 250 } };
const EDGE = { left: 62, right: 28, top: 14, bottom: 46 };

/** The drawing with its text alternative, as a figure; `room` is the width in pixels that there is for it. */
export function plotFigure(curve, room) {
  const { width, height } = room < 500 ? SIZES.narrow : SIZES.wide;
  const [xs, ys] = [0, 1].map((axis) => curve.line.map((point) => point[axis]));
  const x = scale([...xs, curve.here[0]], EDGE.left, width - EDGE.right, false);
  const y = scale([...ys, curve.here[1], ...near(curve.limits, ys)], height - EDGE.bottom, EDGE.top, true);
  const svg = s("svg", { viewBox: `0 0 ${width} ${height}`, role: "img", class: "db-plot", "aria-label": curve.text });
  for (const tick of y.ticks) {
    svg.append(s("line", { class: "db-plot__grid", x1: EDGE.left, x2: width - EDGE.right, y1: y.at(tick), y2: y.at(tick) }), label(y.text(tick), EDGE.left - 8, y.at(tick) + 4, "end"));
  }
  for (const tick of x.ticks) {
    svg.append(s("line", { class: "db-plot__grid", x1: x.at(tick), x2: x.at(tick), y1: EDGE.top, y2: height - EDGE.bottom }), label(x.text(tick), x.at(tick), height - EDGE.bottom + 18, "middle"));
  }
  for (const limit of near(curve.limits, ys)) {
    svg.append(s("line", { class: "db-plot__limit", x1: EDGE.left, x2: width - EDGE.right, y1: y.at(limit), y2: y.at(limit) }));
  }
  const path = curve.line.map(([px, py], place) => `${place ? "L" : "M"}${x.at(px).toFixed(1)} ${y.at(py).toFixed(1)}`).join("");
  const [hx, hy] = [x.at(curve.here[0]), y.at(curve.here[1])];
  svg.append(
    s("path", { class: "db-plot__line", d: path }),
    s("path", { class: "db-plot__lead", d: `M${hx.toFixed(1)} ${height - EDGE.bottom}V${hy.toFixed(1)}H${EDGE.left}` }),
    s("circle", { class: "db-plot__here", cx: hx.toFixed(1), cy: hy.toFixed(1), r: 5 }),
    label(`${curve.x_title}, ${curve.x_unit}`, (EDGE.left + width - EDGE.right) / 2, height - 8, "middle"),
  );
  const figure = document.createElement("figure");
  const caption = document.createElement("figcaption");
  caption.textContent = `Upwards in ${curve.y_unit}. ${curve.text}${near(curve.limits, ys).length ? " The broken line is a limit of what is wanted." : ""}`;
  figure.className = "db-plot-figure";
  figure.append(svg, caption);
  return figure;
}

/** The limits that lie near the curve; one far off would press the curve flat. */
function near(limits, ys) {
  const [low, high] = [Math.min(...ys), Math.max(...ys)];
  const reach = (high - low) * 0.6;
  return limits.filter((limit) => limit >= low - reach && limit <= high + reach);
}

function scale(values, from, to, rounds) {
  let [low, high] = [Math.min(...values), Math.max(...values)];
  if (low > 0 && low < high * 0.45) low = 0;
  const step = stepFor(high - low || Math.abs(high) || 1);
  if (rounds) [low, high] = [Math.floor(low / step + 1e-9) * step, Math.ceil(high / step - 1e-9) * step];
  if (low === high) high = low + step;
  const ticks = [];
  for (let tick = Math.ceil(low / step - 1e-9); tick <= high / step + 1e-9; tick += 1) ticks.push(tick * step);
  const places = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  return { ticks, at: (value) => from + ((value - low) / (high - low)) * (to - from), text: (tick) => grouped(tick.toFixed(places)) };
}

/** A round step, 1, 2 or 5 times a power of ten, that cuts a span into about five. */
function stepFor(span) {
  const power = 10 ** Math.floor(Math.log10(span / 5));
  return power * [1, 2, 5, 10].find((factor) => span / (power * factor) <= 6);
}

function grouped(text) {
  const [whole, rest] = text.replace(/^-(?=0\.?0*$)/, "").replace("-", "\u2212").split(".");
  const spaced = whole.replace(/(?<=\d)(?=(\d{3})+$)/g, "\u202f");
  return rest === undefined ? spaced : `${spaced}.${rest}`;
}

function label(text, x, y, anchor) {
  const element = s("text", { x, y, "text-anchor": anchor });
  element.textContent = text;
  return element;
}

function s(tag, properties) {
  const element = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(properties)) element.setAttribute(name, value);
  return element;
}
