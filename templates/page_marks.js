// The marks of places: a box on the soil side, an oval on the product side, a
// lozenge when the side is not known, filled by loss; what was proved up, what
// is to be done; and the places of the previous inspection.

// The places by look, so that each look is set once: what counts for nothing,
// unknown losses, then bands from the mildest; sides within them.
const groups = (() => {
  const out = [], index = new Map();
  for (const i of byLoss) {
    const k = (faint[i] * 64 + (faint[i] ? 0 : P.band[i] + 1)) * 8 + P.side.of[i];
    if (!index.has(k)) {
      index.set(k, out.length);
      out.push({ faint: faint[i], band: P.band[i], side: word(P.side, i), list: [] });
    }
    out[index.get(k)].list.push(i);
  }
  return out.sort((a, b) => b.faint - a.faint || a.band - b.band);
})();
const long = new Map(Object.entries(P.long).map(([i, d]) => [Number(i), new Path2D(d)]));

const boxCorners = [[-1, -1], [1, -1], [1, 1], [-1, 1]], lozengeCorners = [[-1.25, 0], [0, -1.25], [1.25, 0], [0, 1.25]];

// trace puts an outline into the current path. It goes on to its second corner
// where others would close it: closing takes browsers the longer, the more is
// in the path already.
function trace(x, y, w, h, turned, side) {
  if (!inSight(x, y, w + h)) return;
  if (side === 'product') {
    const a = -radians(turned);
    ctx.moveTo(x + w * Math.cos(a), y + w * Math.sin(a));
    ctx.ellipse(x, y, w, h, a, 0, 2 * Math.PI);
    return;
  }
  if (side === 'soil' && turned === 0) {
    ctx.rect(x - w, y - h, 2 * w, 2 * h);
    return;
  }
  const sin = Math.sin(radians(turned)), cos = Math.cos(radians(turned));
  const corners = side === 'soil' ? boxCorners : lozengeCorners;
  for (let c = 0; c < 6; c++) {
    const u = corners[c % 4][0] * w, v = corners[c % 4][1] * h;
    const qx = x + u * cos - v * sin, qy = y - (u * sin + v * cos);
    c ? ctx.lineTo(qx, qy) : ctx.moveTo(qx, qy);
  }
}
const sizeOf = (half, least) => [Math.max(least / 2, half[0] * view.k), Math.max(least / 2, half[1] * view.k)];
const tracePlace = (i, side, least) => trace(sx(px[i]), sy(py[i]), ...sizeOf(halfOf[i], least), P.turned[i], side);
const traceThen = (j, least) => trace(sx(then.x[j]), sy(then.y[j]), ...sizeOf(then.half[j], least), then.turned[j], word(then.side, j));

const markShown = i => shown[i] && (alone[i] ? layers.proveUps.on : layers.indications.on);

// inParts walks a list, and after as many items as a frame has time for does
// what finishes a part.
function* inParts(list, visit, finishPart, most = partOf) {
  let n = 0;
  for (const i of list) {
    visit(i);
    if (++n % most) continue;
    finishPart();
    yield;
  }
  finishPart();
}

function* paintMarks() {
  toScreen();
  for (const g of groups) {
    ctx.fillStyle = g.faint ? C.plate : g.band < 0 ? C.paper : bandLook[g.band].fill;
    ctx.strokeStyle = g.faint ? C.mist : C['mark-line'];
    ctx.lineWidth = g.faint ? 0.7 : 0.8;
    ctx.beginPath();
    yield* inParts(g.list, i => { if (markShown(i) && px[i] === px[i] && !long.has(i)) tracePlace(i, g.side, leastMark); }, () => { ctx.fill(); ctx.stroke(); ctx.beginPath(); });
  }
  toPlan();
  for (const [i, path] of long) {
    if (!markShown(i)) continue;
    ctx.fillStyle = P.band[i] < 0 || faint[i] ? C.paper : bandLook[P.band[i]].fill;
    ctx.fill(path);
    ctx.lineWidth = 0.8 / view.k;
    ctx.strokeStyle = C['mark-line'];
    ctx.stroke(path);
  }
  toScreen();
}

function paintProved() {
  toScreen();
  for (const g of groups) {
    ctx.beginPath();
    for (const i of g.list) {
      if (!proved[i] || !shown[i]) continue;
      const x = sx(px[i]), y = sy(py[i]);
      if (inSight(x, y, 5)) ctx.rect(x - 1, y - 1, 2, 2);
    }
    ctx.fillStyle = g.faint || g.band < 0 ? C.ink : bandLook[g.band].over;
    ctx.fill();
  }
  if (view.k < 0.15) return; // their own places, once there is room to tell them apart
  for (const u of D.proved) {
    if (!u.placed || !shown[u.place]) continue;
    const x = sx(u.at[0]), y = sy(-u.at[1]);
    if (!inSight(x, y, 0)) continue;
    ctx.beginPath();
    ctx.moveTo(x - 4, y);
    ctx.lineTo(x + 4, y);
    ctx.moveTo(x, y - 4);
    ctx.lineTo(x, y + 4);
    ctx.lineWidth = 1.4;
    ctx.strokeStyle = C.ink;
    ctx.stroke();
    halo(full(u.remaining, 'thickness'), x + 6, y + 14, 'left', C.ink, false);
  }
}

const manyUrgent = 1000; // too many to outline each, or to draw large over the whole floor
function traceTriangle(c, x, y, size = 1) {
  c.moveTo(x, y - 5.5 * size);
  c.lineTo(x + 5 * size, y + 3.5 * size);
  c.lineTo(x - 5 * size, y + 3.5 * size);
  c.lineTo(x, y - 5.5 * size);
  c.lineTo(x + 5 * size, y + 3.5 * size);
}
function fillTriangles(c) {
  if (layers.verdicts.n > manyUrgent) {
    c.fillStyle = C.accent;
    c.fill();
    return;
  }
  c.fillStyle = C.plate;
  c.fill();
  c.lineWidth = 1.8;
  c.strokeStyle = C.accent;
  c.stroke();
}
function* paintUrgent() {
  toScreen();
  ctx.beginPath();
  const size = layers.verdicts.n > manyUrgent && view.k < 0.1 ? 0.55 : 1;
  yield* inParts(byLoss, i => {
    if (!urgent[i] || !shown[i]) return;
    const x = sx(px[i]), y = sy(py[i]) - Math.max(leastMark / 2, halfOf[i][1] * view.k) - 6 * size;
    if (inSight(x, y, 9)) traceTriangle(ctx, x, y, size);
  }, () => { fillTriangles(ctx); ctx.beginPath(); }, 3 * partOf);
}

// number writes a place's number beside it, if there is room.
function number(text, x, y, half) {
  const left = x + Math.max(leastMark / 2, half * view.k) + 3, short = clip(text);
  if (!labels.room(left, y, 6.5 * short.length, 11)) return false;
  halo(short, left, y, 'left', C.ink, false);
  return true;
}

// paintNumbers writes the numbers that fit, the worst first.
function paintNumbers() {
  toScreen();
  const most = 220;
  let done = 0, tried = 0;
  for (let n = byLoss.length - 1; n >= 0 && done < most && tried < 3000; n--) {
    const i = byLoss[n];
    if (!shown[i] || faint[i]) continue;
    const x = sx(px[i]), y = sy(py[i]);
    if (!inSight(x, y, 0)) continue;
    tried++;
    if (number(P.id[i], x, y, halfOf[i][0])) done++;
  }
}

// paintThen paints the earlier places in a pane of their own, as they were.
function* paintThen() {
  toScreen();
  ctx.strokeStyle = C['mark-line'];
  ctx.lineWidth = 0.8;
  yield* inParts(then.worstLast, j => {
    if (!then.shown[j] || Number.isNaN(then.x[j])) return;
    ctx.beginPath();
    traceThen(j, leastMark);
    ctx.fillStyle = then.band[j] < 0 ? C.paper : bandLook[then.band[j]].fill;
    ctx.fill();
    ctx.stroke();
  }, () => {}, partOf / 3);
  if (!layers.numbers.on) return;
  for (let n = then.n - 1, done = 0; n >= 0 && done < 220; n--) {
    const j = then.worstLast[n];
    if (!then.shown[j]) continue;
    const x = sx(then.x[j]), y = sy(then.y[j]);
    if (inSight(x, y, 0) && number(then.id[j], x, y, then.half[j][0])) done++;
  }
}

// paintThenOver outlines the earlier places around those of now.
function* paintThenOver() {
  paintLinks();
  ctx.beginPath();
  ctx.strokeStyle = C.past;
  ctx.lineWidth = 1.4;
  ctx.setLineDash([3, 2]);
  yield* inParts(then.worstLast, j => { if (then.shown[j] && then.x[j] === then.x[j]) traceThen(j, leastMark + 7); }, () => { ctx.stroke(); ctx.beginPath(); }, partOf / 3);
  ctx.setLineDash([]);
}

// paintLinks joins the two places of a pair that lie apart.
function paintLinks() {
  toScreen();
  ctx.beginPath();
  for (let j = 0; j < then.n; j++) {
    const i = then.now[j];
    if (i < 0 || !then.shown[j]) continue;
    const x1 = sx(then.x[j]), y1 = sy(then.y[j]), x2 = sx(px[i]), y2 = sy(py[i]);
    if (Math.hypot(x2 - x1, y2 - y1) < 8 || !inSight(x1, y1, 200)) continue;
    ctx.moveTo(x1, y1);
    ctx.lineTo(x2, y2);
  }
  ctx.strokeStyle = C.past;
  ctx.lineWidth = 1;
  ctx.stroke();
}

// paintChanges letters what grew and what is new.
function* paintChanges() {
  toScreen();
  yield* inParts(byLoss, i => {
    const letter = thenClass[word(P.class, i)];
    if (!letter || !shown[i]) return;
    const x = sx(px[i]), y = sy(py[i]);
    if (inSight(x, y, 20)) changeSign(ctx, letter, x - Math.max(leastMark / 2, halfOf[i][0] * view.k) - 7, y + 6);
  }, () => {});
}
function changeSign(c, letter, x, y) {
  c.beginPath();
  c.arc(x, y, 6, 0, 2 * Math.PI);
  c.fillStyle = C.past;
  c.fill();
  c.fillStyle = C.plate;
  c.font = '700 9px system-ui, sans-serif';
  c.textAlign = 'center';
  c.textBaseline = 'middle';
  c.fillText(letter, x, y + 0.5);
}
