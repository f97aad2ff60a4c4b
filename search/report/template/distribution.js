// The distribution as columns, the target as a line over each, so that "exact" is seen.

/**
 * Draws the columns into `holder`.
 *
 * `pairs` comes from `compare`. `onResult(result, held)` hears which column is pointed at. Returns { light(result) }.
 */
function drawColumns(holder, pairs, { height = 150, quiet = false, label = "", onResult = () => {} } = {}) {
  const width = Math.max(220, Math.floor(holder.clientWidth));
  const left = quiet ? 4 : 34, right = 4, top = quiet ? 6 : 18, bottom = 20;
  const [least, greatest] = d3.extent(pairs, (pair) => pair.result);
  const x = d3.scaleLinear([least - 0.5, greatest + 0.5], [left, width - right]);
  const tallest = d3.max(pairs, (pair) => Math.max(pair.height, pair.line ?? 0)) || 1;
  const y = d3.scaleLinear([0, tallest], [height - bottom, top]);
  const step = x(1) - x(0);
  const wide = step >= 5 ? step - Math.min(4, step * 0.16) : Math.max(1, step + 0.4);
  const numbered = !quiet && pairs.every((pair) => String(pair.ways).length * 6.4 + 3 <= step);

  const svg = d3.create("svg").attr("viewBox", `0 0 ${width} ${height}`).attr("class", `columns${quiet ? " quiet" : ""}`)
    .attr("role", "img").attr("aria-label", label);
  const hatch = svg.append("defs").append("pattern").attr("id", `hatch-${holder.id}`).attr("width", 5).attr("height", 5)
    .attr("patternUnits", "userSpaceOnUse").attr("patternTransform", "rotate(45)");
  hatch.append("rect").attr("width", 5).attr("height", 5).attr("class", "hatch-ground");
  hatch.append("rect").attr("width", 2).attr("height", 5).attr("class", "hatch-line");

  if (!quiet && !numbered) {
    for (const tick of y.ticks(4).filter(Number.isInteger)) {
      svg.append("path").attr("class", "rule").attr("d", `M${left} ${y(tick)}H${width - right}`);
      svg.append("text").attr("class", "soft").attr("x", left - 5).attr("y", y(tick) + 3.5).attr("text-anchor", "end").text(shortNumber(tick));
    }
  }
  const bars = svg.append("g").selectAll("rect").data(pairs).enter().append("rect")
    .attr("class", (pair) => (pair.equal ? "column" : "column miss"))
    .attr("fill", (pair) => (pair.equal ? null : `url(#hatch-${holder.id})`))
    .attr("x", (pair) => x(pair.result) - wide / 2).attr("width", wide)
    .attr("y", (pair) => y(pair.height)).attr("height", (pair) => y(0) - y(pair.height));
  // what lies between a column and its line: too much above it, too little below it
  if (pairs[0].line !== null && !quiet) svg.append("g").selectAll("rect").data(pairs.filter((pair) => !pair.equal)).enter().append("rect")
    .attr("class", "gap").attr("x", (pair) => x(pair.result) - wide / 2).attr("width", wide)
    .attr("y", (pair) => y(Math.max(pair.height, pair.line))).attr("height", (pair) => Math.abs(y(pair.height) - y(pair.line)));
  if (pairs[0].line !== null && !quiet) svg.append("path").attr("class", "wanted").attr("d", wantedLine(pairs, x, y, step));
  if (numbered) {
    svg.append("g").selectAll("text").data(pairs).enter().append("text").attr("class", "soft")
      .attr("x", (pair) => x(pair.result)).attr("y", (pair) => y(Math.max(pair.height, pair.line ?? 0)) - 5).attr("text-anchor", "middle")
      .text((pair) => whole(pair.ways));
  }
  const every = step >= 21 ? d3.range(least, greatest + 1) : lineTicks(least, greatest, step);
  svg.append("g").attr("class", "axis").attr("transform", `translate(0,${height - bottom})`)
    .call(d3.axisBottom(x).tickValues(every).tickFormat((value) => minus(value)).tickSize(step < 21 ? 4 : 0).tickPadding(step < 21 ? 3 : 6));
  holder.replaceChildren(svg.node());
  if (quiet) return { light: () => {} };

  let lit = null;
  const light = (result) => {
    lit = result;
    bars.classed("lit", (pair) => pair.result === result);
  };
  const say = (result, held) => onResult(result, held);
  const nearest = (event) => {
    const box = svg.node().getBoundingClientRect();
    const at = x.invert(((event.clientX - box.left) / box.width) * width);
    return pairs.reduce((best, pair) => (Math.abs(pair.result - at) < Math.abs(best.result - at) ? pair : best)).result;
  };
  svg.attr("tabindex", 0)
    .on("pointermove", (event) => say(nearest(event), false))
    .on("pointerleave", () => say(null, false))
    .on("click", (event) => say(nearest(event), true))
    .on("focus", () => { if (lit === null && svg.node().matches(":focus-visible")) say(pairs[0].result, true); })
    .on("blur", () => say(null, true))
    .on("keydown", (event) => {
      const places = { ArrowLeft: -1, ArrowDown: -1, ArrowRight: 1, ArrowUp: 1, Home: -Infinity, End: Infinity };
      if (!(event.key in places)) return;
      event.preventDefault();
      const at = pairs.findIndex((pair) => pair.result === lit);
      say(pairs[Math.max(0, Math.min(pairs.length - 1, at + places[event.key]))].result, true);
    });
  return { light };
}

/** The target: a line over each column, or one stepped line where columns are thin. */
function wantedLine(pairs, x, y, step) {
  if (step >= 7) return pairs.map((pair) => `M${x(pair.result) - step / 2 + 0.5} ${y(pair.line)}h${step - 1}`).join("");
  let path = "", before = null;
  for (const pair of pairs) {
    const from = x(pair.result - 0.5), to = x(pair.result + 0.5);
    if (before !== pair.result - 1) path += `${before === null ? "" : `V${y(0)}`}M${from} ${y(0)}`;
    path += `V${y(pair.line)}H${to}`;
    before = pair.result;
  }
  return `${path}V${y(0)}`;
}

function shortNumber(value) {
  if (value < 10000) return whole(value);
  const [size, word] = [[1e12, "tn"], [1e9, "bn"], [1e6, "m"], [1e3, "k"]].find(([least]) => value >= least);
  return value >= 1e16 ? value.toExponential(0).replace("e+", "e") : `${value / size} ${word}`;
}
