// What is selected, on the plan: rings, the plate's edge, where a position is
// measured from, and the cross that keys move.

function paintSelection() {
  const plate = other?.kind === 'plate' ? other.i : selection.size === 1 ? P.plate[[...selection][0]] : -1;
  if (plate >= 0 && outline[plate]) {
    toPlan();
    ctx.lineWidth = (other ? 3.5 : 1.8) / view.k;
    ctx.strokeStyle = C.pick;
    ctx.stroke(outline[plate]);
  }
  toScreen();
  if (plate >= 0 && D.plates[plate].placed) paintDatum(plate, selection.size === 1 ? [...selection][0] : -1);
  const at = otherAt();
  if (at) ring(sx(at[0]), sy(at[1]), 14);
  const few = selection.size < 40;
  ctx.strokeStyle = C.pick;
  for (const i of selection) {
    const x = sx(px[i]), y = sy(py[i]);
    if (!inSight(x, y, 60)) continue;
    if (few) ring(x, y, Math.max(11, Math.hypot(...halfOf[i]) * view.k + 5));
    ctx.beginPath();
    tracePlace(i, word(P.side, i), leastMark + 2);
    ctx.lineWidth = 2.4;
    ctx.strokeStyle = C.pick;
    ctx.stroke();
  }
}

// paintOver is what a hand moves, over the painting: the area being drawn and
// the cross of the keys.
function* paintOver() {
  toScreen();
  if (frame) {
    ctx.lineWidth = 1.5;
    ctx.setLineDash([5, 4]);
    ctx.strokeStyle = C.pick;
    ctx.strokeRect(frame.x1, frame.y1, frame.x2 - frame.x1, frame.y2 - frame.y1);
    ctx.setLineDash([]);
  }
  if (hand && document.activeElement === el('plan')) paintHand(sx(hand.x), sy(hand.y));
}

// otherAt is where the other thing selected stands, y downward.
function otherAt() {
  if (other?.kind === 'then') return Number.isNaN(then.x[other.i]) ? null : [then.x[other.i], then.y[other.i]];
  const sump = other?.kind === 'plate' ? D.fixtures[sumpAt(other.i)] : null;
  if (sump) return [sump.at[0], -sump.at[1]];
  const list = { repair: D.repairs, note: D.notes, photo: D.photos, fixture: D.fixtures }[other?.kind];
  const at = list?.[other.i].at;
  return at && at[0] !== null && list[other.i].placed !== false ? [at[0], -at[1]] : null;
}

// paintDatum marks the corner that positions on a plate are measured from, and
// the way from there to a place: X first, then Y.
function paintDatum(plate, i) {
  const p = D.plates[plate], d = datumOf(plate);
  ctx.strokeStyle = ctx.fillStyle = C.pick;
  ctx.lineWidth = 1.6;
  const measured = i >= 0 && P.plate[i] === plate && !Number.isNaN(px[i]) && P.x[i] !== null && P.y[i] !== null;
  const line = (...points) => { ctx.beginPath(); points.forEach(([x, y], n) => (n ? ctx.lineTo(x, y) : ctx.moveTo(x, y))); ctx.stroke(); };
  const corner = ([x, y]) => { ctx.beginPath(); ctx.rect(sx(x) - 3.5, sy(-y) - 3.5, 7, 7); ctx.fill(); };
  const name = (text, x, y) => halo(text, x, y, 'center', C.pick, true);
  const roomy = (p.box[2] - p.box[0]) * view.k > 150;
  if (p.sector) {
    const from = polar(D.plan.radius, p.start);
    corner(from);
    if (!measured || !roomy) return;
    const along = drawnAt(px[i], -py[i]), foot = polar(D.plan.radius, along), a = b => radians(b - D.plan.up - 90);
    ctx.beginPath();
    ctx.arc(sx(0), sy(0), D.plan.radius * view.k + 5, a(p.start), a(along));
    ctx.stroke();
    line([sx(foot[0]), sy(-foot[1])], [sx(px[i]), sy(py[i])]);
    const mid = polar(D.plan.radius + 18 / view.k, p.start + turn(along - p.start) / 2);
    name(`X ${bare(P.x[i], 'position')}`, sx(mid[0]), sy(-mid[1]));
    name(`Y ${bare(P.y[i], 'position')}`, (sx(foot[0]) + sx(px[i])) / 2 + 24, (sy(-foot[1]) + sy(py[i])) / 2);
    return;
  }
  if (!d) return;
  corner(d.at);
  const at = (u, v) => [sx(d.at[0] + u * d.x[0] + v * d.y[0]), sy(-d.at[1] - u * d.x[1] - v * d.y[1])];
  if (!measured) {
    const reach = Math.min(34, 0.3 * (p.box[3] - p.box[1]) * view.k, 0.3 * (p.box[2] - p.box[0]) * view.k) / view.k;
    line(at(reach, 0), at(0, 0), at(0, reach));
    if (roomy) { name('X', ...at(reach + 9 / view.k, 0)); name('Y', ...at(0, reach + 9 / view.k)); }
    return;
  }
  const x = P.x[i], y = P.y[i];
  ctx.setLineDash([6, 3]);
  line(at(0, 0), at(x, 0), at(x, y));
  ctx.setLineDash([]);
  if (!roomy) return;
  name(`X ${bare(x, 'position')}`, ...at(x / 2, 0));
  name(`Y ${bare(y, 'position')}`, ...at(x, y / 2));
}

function paintHand(x, y) {
  for (const [w, colour] of [[4, C.plate], [1.8, C.pick]]) {
    ctx.beginPath();
    for (const [dx, dy] of [[1, 0], [-1, 0], [0, 1], [0, -1]]) {
      ctx.moveTo(x + 4 * dx, y + 4 * dy);
      ctx.lineTo(x + 16 * dx, y + 16 * dy);
    }
    ctx.lineWidth = w;
    ctx.strokeStyle = colour;
    ctx.stroke();
  }
}

function ring(x, y, r) {
  for (const [w, colour] of [[6, C.plate], [3, C.pick]]) {
    ctx.beginPath();
    ctx.arc(x, y, r, 0, 2 * Math.PI);
    ctx.lineWidth = w;
    ctx.strokeStyle = colour;
    ctx.stroke();
  }
}
