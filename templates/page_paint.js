// The plan on its canvas: plates, then what lies on them, then what is
// selected; and the legend that explains the signs.

const canvas = el('canvas'), ctx = canvas.getContext('2d');
const view = { x: 0, y: 0, k: 1, width: 0, height: 0 }; // centre in plan, y downward; pixels per millimetre

const leastMark = 6; // pixels
const layers = {
  indications: { name: W.layerIndications, n: N - P.alone.length, on: true },
  proveUps: { name: W.layerProveUps, n: D.proved.length + P.alone.length, on: true },
  verdicts: { name: W.layerVerdicts, n: urgent.reduce((a, b) => a + b, 0), on: true },
  numbers: { name: W.layerNumbers, on: true },
  fixtures: { name: W.layerFixtures, n: D.fixtures.length, on: true },
  patches: { name: W.layerPatches, n: D.patches.length, on: true },
  repairs: { name: W.layerRepairs, n: D.repairs.length, on: true },
  visual: { name: W.layerVisual, n: D.notes.filter(n => !n.weld).length, on: false },
  welds: { name: W.layerWelds, n: D.notes.filter(n => n.weld).length, on: false },
  readings: { name: W.layerReadings, n: D.readings.length, on: false },
  photos: { name: W.layerPhotos, n: D.photos.filter(p => p.at).length, on: false },
  previous: { name: W.layerPrevious, n: D.previous ? 1 : 0, on: false },
};
const shades = {
  none: { name: W.shadeNone },
  examined: { name: W.shadeExamined, bands: D.examined, of: p => p.shareBand, text: p => full(p.examined, 'share'), dark: 'low' },
  loss: { name: W.shadeLoss, bands: D.loss, of: p => p.lossBand, text: p => full(p.loss, 'share') },
  margin: { name: W.shadeMargin, bands: D.margin, of: p => p.marginBand, text: p => fullMargin(p.margin) },
};
let shade = 'none';

let C = {}, dark = false, printing = false;
const darkScreen = matchMedia('(prefers-color-scheme: dark)');

// takeColours reads the style's colours. On a dark ground the bands run from
// dark to light, so that the worst still stands out most.
function takeColours() {
  dark = darkScreen.matches && !printing;
  const css = getComputedStyle(document.documentElement);
  for (const name of ['ink', 'steel', 'mist', 'haze', 'accent', 'pick', 'plate', 'ring', 'outside', 'mark-line', 'paper']) C[name] = css.getPropertyValue('--' + name).trim();
  if (printing) C = { ink: '#1c242c', steel: '#4f5a65', mist: '#98a2ac', haze: '#f1f3f5', accent: '#9c2a1d', pick: '#0b6b5b', plate: '#fff', ring: '#e9edf0', outside: '#fff', 'mark-line': '#1c242c', paper: '#fff' };
}
const shadeOf = (bands, b) => {
  if (!dark) return bands[b];
  const byShade = bands.map((_, k) => k).sort((i, j) => bands[i].letter < bands[j].letter ? -1 : 1); // mildest first
  return bands[byShade[bands.length - 1 - byShade.indexOf(b)]];
};
let bandLook = []; // of D.loss, as painted

// The places by look, so that each look is set once: what counts for nothing,
// unknown losses, then bands from the mildest; sides within them.
const groups = (() => {
  const out = [], index = new Map();
  for (const i of byLoss) {
    const k = `${faint[i]}/${faint[i] ? 0 : P.band[i]}/${P.side.of[i]}`;
    if (!index.has(k)) {
      index.set(k, out.length);
      out.push({ faint: faint[i], band: P.band[i], side: word(P.side, i), list: [] });
    }
    out[index.get(k)].list.push(i);
  }
  out.sort((a, b) => b.faint - a.faint || a.band - b.band);
  for (const g of out) g.list = Int32Array.from(g.list);
  return out;
})();
const long = new Map(Object.entries(P.long).map(([i, d]) => [Number(i), new Path2D(d)]));

// repaint paints with the next frame. While the view moves over a crowd of
// places the last painting is moved instead, and painted anew when it rests or,
// if that is quick enough, twice a second.
const crowd = 2500;
const last = { canvas: document.createElement('canvas'), x: 0, y: 0, k: 0, at: 0, took: 0 };
const frames = []; // script time of the latest frames, ms
let pending = 0, moving = false, rest = 0;
function repaint() {
  moving = false;
  request();
}
function moved() {
  if (N <= crowd || !last.k) return repaint();
  if (!pending) moving = true;
  request();
  clearTimeout(rest);
  rest = setTimeout(repaint, 150);
}
function request() {
  if (pending) return;
  pending = requestAnimationFrame(() => {
    pending = 0;
    const start = performance.now();
    if (moving && (last.took > 60 || start - last.at < 500)) paintMoved();
    else {
      paint();
      last.at = performance.now();
      last.took = last.at - start;
    }
    frames.push(performance.now() - start);
    if (frames.length > 600) frames.shift();
  });
}
function paintMoved() {
  const f = view.k / last.k;
  toScreen();
  ctx.fillStyle = C.outside;
  ctx.fillRect(0, 0, view.width, view.height);
  ctx.drawImage(last.canvas, sx(last.x) - f * view.width / 2, sy(last.y) - f * view.height / 2, f * view.width, f * view.height);
}
function keepPainting() {
  last.canvas.width = canvas.width;
  last.canvas.height = canvas.height;
  last.canvas.getContext('2d').drawImage(canvas, 0, 0);
  Object.assign(last, { x: view.x, y: view.y, k: view.k });
}

const sx = x => (x - view.x) * view.k + view.width / 2;
const sy = y => (y - view.y) * view.k + view.height / 2;

let ratio = 1;
function fitCanvas() {
  const box = el('plan');
  view.width = box.clientWidth;
  view.height = box.clientHeight;
  ratio = printing ? 3 : Math.min(3, devicePixelRatio || 1);
  canvas.width = Math.max(1, Math.round(view.width * ratio));
  canvas.height = Math.max(1, Math.round(view.height * ratio));
}

const toScreen = () => ctx.setTransform(ratio, 0, 0, ratio, 0, 0);
const toPlan = () => ctx.setTransform(ratio * view.k, 0, 0, ratio * view.k, ratio * (view.width / 2 - view.x * view.k), ratio * (view.height / 2 - view.y * view.k));

function paint() {
  bandLook = D.loss.map((_, b) => shadeOf(D.loss, b));
  toScreen();
  ctx.fillStyle = C.outside;
  ctx.fillRect(0, 0, view.width, view.height);
  if (!D.plan.known) {
    ctx.fillStyle = C.ink;
    ctx.font = '15px system-ui, sans-serif';
    ctx.textAlign = 'center';
    ctx.fillText(W.noPlan, view.width / 2, view.height / 2, view.width - 20);
    return;
  }
  paintPlates();
  if (layers.patches.on) paintOutlines(D.patches, { line: C.steel, dash: [8, 3, 2, 3], width: 1.2 });
  if (layers.repairs.on) paintRepairs();
  if (layers.fixtures.on) paintFixtures();
  if (layers.numbers.on) paintPlateNumbers();
  paintMarks();
  if (layers.proveUps.on) paintProved();
  if (layers.readings.on) paintReadings();
  paintNotes();
  if (layers.photos.on) paintPhotos();
  if (layers.verdicts.on) paintUrgent();
  if (layers.numbers.on) paintNumbers();
  paintSelection();
  paintCompass();
  if (N > crowd) keepPainting();
}

function paintPlates() {
  const s = shades[shade];
  toPlan();
  ctx.lineWidth = 1 / view.k;
  D.plates.forEach((p, i) => {
    if (!outline[i]) return;
    const b = s.bands ? s.of(p) : -1;
    ctx.fillStyle = b >= 0 ? shadeOf(s.bands, b).fill : p.sector ? C.ring : C.plate;
    ctx.fill(outline[i], 'evenodd');
    ctx.strokeStyle = C.mist;
    ctx.stroke(outline[i]);
  });
  if (D.plan.radius) {
    ctx.beginPath();
    ctx.arc(0, 0, D.plan.radius, 0, 2 * Math.PI);
    ctx.strokeStyle = C.ink;
    ctx.lineWidth = 2.5 / view.k;
    ctx.stroke();
  }
}

function paintPlateNumbers() {
  toScreen();
  ctx.textAlign = 'center';
  ctx.textBaseline = 'middle';
  const s = shades[shade];
  D.plates.forEach(p => {
    if (!p.placed) return;
    const x = sx(p.at[0]), y = sy(-p.at[1]), w = (p.box[2] - p.box[0]) * view.k, h = (p.box[3] - p.box[1]) * view.k;
    if (x < -50 || y < -20 || x > view.width + 50 || y > view.height + 20) return;
    const size = Math.min(13, Math.max(9, Math.min(h * 0.3, w * 0.22)));
    const label = clip(p.label);
    if (h < 11 || w < label.length * size * 0.55 + 4) return;
    const b = s.bands ? s.of(p) : -1;
    ctx.font = `600 ${size}px system-ui, sans-serif`;
    ctx.fillStyle = b >= 0 ? shadeOf(s.bands, b).over : C.steel;
    ctx.fillText(label, x, y);
    if (b >= 0 && h > 2.6 * size && w > 60) {
      ctx.font = `${size * 0.8}px system-ui, sans-serif`;
      ctx.fillText(`${s.text(p)} ${s.bands[b].letter}`, x, y + size * 1.05);
    }
  });
}

const clip = text => (text.length > 14 ? text.slice(0, 13) + '…' : text);

function paintOutlines(list, look) {
  toPlan();
  ctx.lineWidth = look.width / view.k;
  ctx.setLineDash(look.dash.map(d => d / view.k));
  ctx.strokeStyle = look.line;
  for (const o of list) ctx.stroke(o.path ??= new Path2D(o.d));
  ctx.setLineDash([]);
}

function paintRepairs() {
  for (const r of D.repairs) {
    toPlan();
    const path = r.d ? (r.path ??= new Path2D(r.d)) : r.plate >= 0 ? outline[r.plate] : null;
    if (!path) continue;
    ctx.globalAlpha = r.done ? 0.55 : 0.25;
    ctx.fillStyle = C.pick;
    ctx.fill(path, 'evenodd');
    ctx.globalAlpha = 1;
    ctx.lineWidth = 1.6 / view.k;
    ctx.strokeStyle = C.pick;
    ctx.setLineDash(r.proposed ? [5 / view.k, 3 / view.k] : []);
    ctx.stroke(path);
    ctx.setLineDash([]);
    if (r.at[0] === null) continue;
    const x = sx(r.at[0]), y = sy(-r.at[1]);
    toScreen();
    const size = r.d ? Math.max(r.length, r.width) * view.k : 99;
    if (size < 12) { // never too small to see
      ctx.lineWidth = 1.6;
      ctx.setLineDash(r.proposed ? [3, 2] : []);
      ctx.strokeRect(x - 7, y - 7, 14, 14);
      ctx.setLineDash([]);
    }
    if (layers.numbers.on && x > -20 && y > -20 && x < view.width + 20 && y < view.height + 20) halo(clip(r.label), x - Math.max(8, size / 2 + 2), y, 'right', C.pick, true);
  }
}

function halo(text, x, y, align, colour, bold) {
  ctx.font = `${bold ? '700 ' : ''}11px system-ui, sans-serif`;
  ctx.textAlign = align;
  ctx.textBaseline = 'middle';
  ctx.lineWidth = 3;
  ctx.lineJoin = 'round';
  ctx.strokeStyle = C.plate;
  ctx.strokeText(text, x, y);
  ctx.fillStyle = colour;
  ctx.fillText(text, x, y);
}

function paintFixtures() {
  toScreen();
  for (const f of D.fixtures) {
    const x = sx(f.at[0]), y = sy(-f.at[1]), w = Math.max(8, f.l * view.k), h = Math.max(8, f.w * view.k);
    ctx.beginPath();
    if (f.round) ctx.ellipse(x, y, w / 2, h / 2, 0, 0, 2 * Math.PI); else ctx.rect(x - w / 2, y - h / 2, w, h);
    ctx.fillStyle = C.haze;
    ctx.fill();
    ctx.moveTo(x - w / 2, y);
    ctx.lineTo(x + w / 2, y);
    ctx.moveTo(x, y - h / 2);
    ctx.lineTo(x, y + h / 2);
    ctx.lineWidth = 1;
    ctx.strokeStyle = C.ink;
    ctx.stroke();
    if (layers.numbers.on && f.name) halo(clip(f.name), x + w / 2 + 3, y, 'left', C.ink, false);
  }
}

// trace puts a place's outline into the current path: a box on the soil side,
// an oval on the product side, a lozenge when the side is not known.
function trace(i, side, least) {
  const x = sx(px[i]), y = sy(py[i]), half = halfOf[i];
  const w = Math.max(least / 2, half[0] * view.k), h = Math.max(least / 2, half[1] * view.k);
  if (x + w + h < 0 || y + w + h < 0 || x - w - h > view.width || y - w - h > view.height) return;
  const turned = P.turned[i];
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
  for (let c = 0; c < 4; c++) {
    const u = corners[c][0] * w, v = corners[c][1] * h;
    const qx = x + u * cos - v * sin, qy = y - (u * sin + v * cos);
    c ? ctx.lineTo(qx, qy) : ctx.moveTo(qx, qy);
  }
  ctx.closePath();
}
const boxCorners = [[-1, -1], [1, -1], [1, 1], [-1, 1]], lozengeCorners = [[-1.25, 0], [0, -1.25], [1.25, 0], [0, 1.25]];

function paintMarks() {
  if (!layers.indications.on && !layers.proveUps.on) return;
  toScreen();
  for (const g of groups) {
    ctx.beginPath();
    for (const i of g.list) {
      if (!shown[i] || Number.isNaN(px[i]) || long.has(i)) continue;
      if (alone[i] ? !layers.proveUps.on : !layers.indications.on) continue;
      trace(i, g.side, leastMark);
    }
    ctx.fillStyle = g.faint ? C.plate : g.band < 0 ? C.paper : bandLook[g.band].fill;
    ctx.strokeStyle = g.faint ? C.mist : C['mark-line'];
    ctx.lineWidth = g.faint ? 0.7 : 0.8;
    ctx.fill();
    ctx.stroke();
  }
  for (const [i, path] of long) {
    if (!shown[i]) continue;
    toPlan();
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
      if (!proved[i] || !shown[i] || Number.isNaN(px[i])) continue;
      const x = sx(px[i]), y = sy(py[i]);
      if (x < -5 || y < -5 || x > view.width + 5 || y > view.height + 5) continue;
      ctx.rect(x - 1, y - 1, 2, 2);
    }
    ctx.fillStyle = g.faint || g.band < 0 ? C.ink : bandLook[g.band].over;
    ctx.fill();
  }
  if (view.k < 0.15) return; // their own places, once there is room to tell them apart
  for (const u of D.proved) {
    if (!u.placed || !shown[u.place]) continue;
    const x = sx(u.at[0]), y = sy(-u.at[1]);
    if (x < 0 || y < 0 || x > view.width || y > view.height) continue;
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

function paintReadings() {
  toScreen();
  ctx.lineWidth = 1;
  const room = view.k > 0.06;
  for (const r of D.readings) {
    const x = sx(r.at[0]), y = sy(-r.at[1]);
    if (x < -40 || y < 0 || x > view.width || y > view.height) continue;
    ctx.beginPath();
    ctx.moveTo(x - 3, y + 2);
    ctx.lineTo(x + 3, y + 2);
    ctx.lineTo(x, y - 3.5);
    ctx.closePath();
    ctx.fillStyle = C.plate;
    ctx.fill();
    ctx.strokeStyle = C.ink;
    ctx.stroke();
    if (room) halo(bare(r.t, 'thickness'), x + 6, y, 'left', C.steel, false);
  }
}

const noteShown = n => n.placed && (n.weld ? layers.welds.on : layers.visual.on);
function noteSign(c, n, x, y) {
  const heavy = n.kind === 'repair' || n.kind === 'rejected';
  c.beginPath();
  if (n.weld) c.rect(x - 5, y - 5, 10, 10); else c.arc(x, y, 5.5, 0, 2 * Math.PI);
  c.fillStyle = heavy ? C.accent : C.plate;
  c.fill();
  c.lineWidth = 1.2;
  c.strokeStyle = heavy ? C.accent : C.ink;
  c.stroke();
  c.fillStyle = heavy ? C.plate : C.ink;
  c.font = '700 8px system-ui, sans-serif';
  c.textAlign = 'center';
  c.textBaseline = 'middle';
  c.fillText((n.kind[0] ?? '?').toUpperCase(), x, y + 0.5);
}
function paintNotes() {
  toScreen();
  for (const n of D.notes) {
    if (!noteShown(n)) continue;
    const x = sx(n.at[0]), y = sy(-n.at[1]);
    noteSign(ctx, n, x, y);
    if (layers.numbers.on) halo(clip(n.id), x + 8, y, 'left', C.ink, false);
  }
}

function photoSign(c, x, y, text) {
  c.beginPath();
  c.rect(x - 7, y - 5, 14, 10);
  c.rect(x - 3, y - 7, 6, 2);
  c.fillStyle = C.ink;
  c.fill();
  c.fillStyle = C.plate;
  c.font = '700 8px system-ui, sans-serif';
  c.textAlign = 'center';
  c.textBaseline = 'middle';
  c.fillText(text, x, y + 0.5);
}
function paintPhotos() {
  toScreen();
  for (const p of D.photos) if (p.at) photoSign(ctx, sx(p.at[0]), sy(-p.at[1]), String(p.number));
}

const manyUrgent = 1000; // too many to outline each, or to draw large over the whole floor
function traceTriangle(c, x, y, size = 1) {
  c.moveTo(x, y - 5.5 * size);
  c.lineTo(x + 5 * size, y + 3.5 * size);
  c.lineTo(x - 5 * size, y + 3.5 * size);
  c.closePath();
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
function paintUrgent() {
  toScreen();
  ctx.beginPath();
  const size = layers.verdicts.n > manyUrgent && view.k < 0.1 ? 0.55 : 1;
  for (const i of byLoss) {
    if (!urgent[i] || !shown[i] || Number.isNaN(px[i])) continue;
    const x = sx(px[i]), y = sy(py[i]) - Math.max(leastMark / 2, halfOf[i][1] * view.k) - 6 * size;
    if (x > -9 && y > -9 && x < view.width + 9 && y < view.height + 9) traceTriangle(ctx, x, y, size);
  }
  fillTriangles(ctx);
}

// paintNumbers writes the numbers that fit, the worst first.
function paintNumbers() {
  if (!layers.indications.on) return;
  toScreen();
  const taken = new Set(), most = 220, cell = 12;
  const ox = Math.round(view.x * view.k), oy = Math.round(view.y * view.k); // moves with the plan, so that labels hold still
  let done = 0, tried = 0;
  for (let n = byLoss.length - 1; n >= 0 && done < most && tried < 4000; n--) {
    const i = byLoss[n];
    if (!shown[i] || Number.isNaN(px[i]) || faint[i]) continue;
    const x = sx(px[i]), y = sy(py[i]);
    if (x < 0 || y < 0 || x > view.width || y > view.height) continue;
    tried++;
    const left = x + Math.max(leastMark / 2, halfOf[i][0] * view.k) + 3, w = 6.5 * Math.min(14, P.id[i].length);
    const c1 = Math.floor((left + ox - 4) / cell), c2 = Math.floor((left + ox + w) / cell), r1 = Math.floor((y + oy - 6) / cell), r2 = Math.floor((y + oy + 6) / cell);
    let free = true;
    for (let c = c1; c <= c2 && free; c++) for (let r = r1; r <= r2; r++) if (taken.has(c * 65536 + r)) { free = false; break; }
    if (!free) continue;
    for (let c = c1; c <= c2; c++) for (let r = r1; r <= r2; r++) taken.add(c * 65536 + r);
    halo(clip(P.id[i]), left, y, 'left', C.ink, false);
    done++;
  }
}

function paintSelection() {
  if (other?.kind === 'plate' && outline[other.i]) {
    toPlan();
    ctx.lineWidth = 3.5 / view.k;
    ctx.strokeStyle = C.pick;
    ctx.stroke(outline[other.i]);
  }
  toScreen();
  const at = other?.kind === 'repair' ? D.repairs[other.i].at : other?.kind === 'note' ? D.notes[other.i].at : other?.kind === 'photo' ? D.photos[other.i].at : other?.kind === 'fixture' ? D.fixtures[other.i].at : null;
  if (at && at[0] !== null) ring(sx(at[0]), sy(-at[1]), 14);
  const few = selection.size < 40;
  for (const i of selection) {
    if (Number.isNaN(px[i])) continue;
    if (few) ring(sx(px[i]), sy(py[i]), Math.max(11, Math.hypot(...halfOf[i]) * view.k + 5));
    ctx.beginPath();
    trace(i, word(P.side, i), leastMark + 2);
    ctx.lineWidth = 2.4;
    ctx.strokeStyle = C.pick;
    ctx.stroke();
  }
  if (frame) {
    ctx.lineWidth = 1.5;
    ctx.setLineDash([5, 4]);
    ctx.strokeStyle = C.pick;
    ctx.strokeRect(frame.x1, frame.y1, frame.x2 - frame.x1, frame.y2 - frame.y1);
    ctx.setLineDash([]);
  }
  if (hand && document.activeElement === el('plan')) {
    const x = sx(hand.x), y = sy(hand.y);
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

// paintCompass draws north and a scale bar of a round length.
function paintCompass() {
  toScreen();
  const k = D.kinds.height, target = 110 / view.k / k.factor, decade = 10 ** Math.floor(Math.log10(target));
  const n = [5, 2, 1].find(s => s * decade <= target) * decade, w = n * k.factor * view.k, y = view.height - 14;
  ctx.beginPath();
  for (const x of [12, 12 + w]) { ctx.moveTo(x, y - 5); ctx.lineTo(x, y + 5); }
  ctx.moveTo(12, y);
  ctx.lineTo(12 + w, y);
  ctx.lineWidth = 1.5;
  ctx.strokeStyle = C.ink;
  ctx.stroke();
  halo(`${Number(n.toPrecision(3))} ${k.unit}, ${W.viewFrom}`, 18 + w, y, 'left', C.ink, false);
  if (!D.plan.north || D.plan.up === null) return;
  const x0 = view.width - 26, y0 = 28, a = radians(-D.plan.up), dx = Math.sin(a), dy = -Math.cos(a);
  ctx.beginPath();
  ctx.moveTo(x0 + 15 * dx, y0 + 15 * dy);
  ctx.lineTo(x0 - 11 * dx + 6 * dy, y0 - 11 * dy - 6 * dx);
  ctx.lineTo(x0 - 6 * dx, y0 - 6 * dy);
  ctx.lineTo(x0 - 11 * dx - 6 * dy, y0 - 11 * dy + 6 * dx);
  ctx.closePath();
  ctx.fillStyle = C.ink;
  ctx.fill();
  halo(W.north, x0 + 22 * dx, y0 + 22 * dy, 'center', C.ink, true);
}

function showLegend() {
  const swatch = band => {
    const s = make('span', { class: 'swatch', 'aria-hidden': 'true' }, band.letter);
    s.style.background = band.look.fill;
    s.style.color = band.look.over;
    return s;
  };
  const group = (name, ...entries) => make('div', { class: 'group' }, make('b', {}, name), ...entries);
  const scale = bands => bands.map((b, k) => ({ ...b, look: shadeOf(bands, k) })).sort((a, b) => (a.letter < b.letter ? 1 : -1))
    .map(b => make('span', { class: 'entry' }, swatch(b), b.name));
  const sign = (text, draw) => {
    const c = make('canvas', { width: 40, height: 36, 'aria-hidden': 'true' }), p = c.getContext('2d');
    c.style.width = '20px';
    c.style.height = '18px';
    p.scale(2, 2);
    p.lineWidth = 1;
    p.strokeStyle = C['mark-line'];
    p.fillStyle = bandLook[Math.floor(D.loss.length / 2)].fill;
    draw(p);
    return make('span', { class: 'entry' }, c, text);
  };
  const shape = trace => p => { p.beginPath(); trace(p); p.closePath(); p.fill(); p.stroke(); };
  bandLook = D.loss.map((_, b) => shadeOf(D.loss, b));
  const has = side => P.side.of.some(k => P.side.words[k] === side);
  const signs = [];
  if (has('soil')) signs.push(sign(W.signSoil, shape(p => p.rect(4, 4, 12, 10))));
  if (has('product')) signs.push(sign(W.signProduct, shape(p => p.ellipse(10, 9, 7, 5, 0, 0, 7))));
  if (has('unknown')) signs.push(sign(W.signUnknown, shape(p => { p.moveTo(3, 9); p.lineTo(10, 2); p.lineTo(17, 9); p.lineTo(10, 16); })));
  if (layers.proveUps.on && layers.proveUps.n) {
    signs.push(sign(W.signProved, p => {
      shape(q => q.rect(4, 4, 12, 10))(p);
      p.fillStyle = bandLook[Math.floor(D.loss.length / 2)].over;
      p.fillRect(8.5, 7.5, 3, 3);
    }));
  }
  if (layers.verdicts.on && layers.verdicts.n) signs.push(sign(W.signUrgent, p => { p.beginPath(); traceTriangle(p, 10, 10); fillTriangles(p); }));
  if (P.faint.length) signs.push(sign(W.signFaint, p => { p.fillStyle = C.plate; p.strokeStyle = C.mist; shape(q => q.rect(4, 4, 12, 10))(p); }));
  const repair = (fill, dash, text) => sign(text, p => { p.fillStyle = p.strokeStyle = C.pick; p.globalAlpha = fill; p.fillRect(3, 3, 14, 12); p.globalAlpha = 1; p.setLineDash(dash); p.strokeRect(3, 3, 14, 12); });
  if (layers.repairs.on && D.repairs.some(r => r.proposed)) signs.push(repair(0.25, [3, 2], W.signProposed));
  if (layers.repairs.on && D.repairs.some(r => !r.done && !r.proposed)) signs.push(repair(0.25, [], W.signRepair));
  if (layers.repairs.on && D.repairs.some(r => r.done)) signs.push(repair(0.55, [], W.signDone));
  if (layers.patches.on && D.patches.length) signs.push(sign(W.signPatch, p => { p.setLineDash([4, 1.5, 1, 1.5]); p.strokeStyle = C.steel; p.strokeRect(3, 4, 14, 10); }));
  if (layers.fixtures.on && D.fixtures.length) signs.push(sign(W.signFixture, p => { p.fillStyle = C.haze; shape(q => q.ellipse(10, 9, 6, 6, 0, 0, 7))(p); p.beginPath(); p.moveTo(4, 9); p.lineTo(16, 9); p.moveTo(10, 3); p.lineTo(10, 15); p.stroke(); }));
  if (layers.visual.on && layers.visual.n) signs.push(sign(W.signVisual, p => noteSign(p, { weld: false, kind: 'note' }, 10, 9)));
  if (layers.welds.on && layers.welds.n) signs.push(sign(W.signWeld, p => noteSign(p, { weld: true, kind: 'accepted' }, 10, 9)));
  if (layers.readings.on && layers.readings.n) signs.push(sign(W.signReading, shape(p => { p.moveTo(7, 11); p.lineTo(13, 11); p.lineTo(10, 5.5); })));
  if (layers.photos.on && layers.photos.n) signs.push(sign(W.signPhoto, p => photoSign(p, 10, 10, '')));
  const s = shades[shade];
  const parts = [group(W.legendLoss, ...scale(D.loss))];
  if (s.bands) parts.push(group(`${W.legendShade}: ${s.name}`, ...scale(s.bands)));
  parts.push(group(W.legendSigns, ...signs));
  el('legend').replaceChildren(...parts);
}
