// The plan on its canvas: what is shown, when it is painted, and in which
// order. Two inspections side by side are two panes with one view.

const canvas = el('canvas'), screenOf = canvas.getContext('2d');
let ctx = screenOf; // what is being painted on
// The view's centre in plan, y downward; pixels per millimetre; the size of a
// pane, and where the pane being painted lies on the canvas.
const view = { x: 0, y: 0, k: 1, width: 0, height: 0, left: 0, top: 0 };

const leastMark = 6; // pixels
const layers = {
  indications: { name: W.layerIndications, n: N - P.alone.length, on: true },
  proveUps: { name: W.layerProveUps, n: D.proved.length + P.alone.length, on: true },
  verdicts: { name: W.layerVerdicts, n: urgent.reduce((a, b) => a + b, 0), on: true },
  numbers: { name: W.layerNumbers, on: true },
  fixtures: { name: W.layerFixtures, n: D.fixtures.length, on: true },
  patches: { name: W.layerPatches, n: D.patches.length, on: true },
  repairs: { name: W.layerRepairs, n: D.repairs.length, on: true },
  unexamined: { name: W.layerUnexamined, n: D.plates.filter(p => p.examined !== 100).length, on: false },
  seams: { name: W.layerSeams, n: D.seams.length, on: false },
  welds: { name: W.layerWelds, n: D.notes.filter(n => n.weld).length, on: false },
  visual: { name: W.layerVisual, n: D.notes.filter(n => !n.weld).length, on: false },
  readings: { name: W.layerReadings, n: D.readings.length, on: false },
  photos: { name: W.layerPhotos, n: D.photos.filter(p => p.at).length, on: false },
  previous: { name: W.layerPrevious, n: then.n, on: false },
};
const shades = {
  none: { name: W.shadeNone },
  examined: { name: W.shadeExamined, bands: D.examined, of: p => p.shareBand, text: p => full(p.examined, 'share') },
  loss: { name: W.shadeLoss, bands: D.loss, of: p => p.lossBand, text: p => full(p.loss, 'share'), tracks: true, then: true },
  margin: { name: W.shadeMargin, bands: D.margin, of: p => p.marginBand, text: p => fullMargin(p.margin) },
};
let shade = 'none';
let beside = false; // the previous inspection has a pane of its own

let C = {}, dark = false, printing = false;
const darkScreen = matchMedia('(prefers-color-scheme: dark)');
const colours = ['ink', 'steel', 'mist', 'haze', 'accent', 'pick', 'past', 'plate', 'ring', 'outside', 'mark-line', 'paper'];

// takeColours reads the style's colours; paper has those of its own.
function takeColours() {
  dark = darkScreen.matches && !printing;
  const css = getComputedStyle(printing ? el('inks') : document.documentElement);
  for (const name of colours) C[name] = css.getPropertyValue('--' + name).trim();
}

// On a dark ground the bands run from dark to light, so that the worst still
// stands out most.
const shadeOf = (bands, b) => {
  if (!dark) return bands[b];
  const byShade = bands.map((_, k) => k).sort((i, j) => (bands[i].letter < bands[j].letter ? -1 : 1)); // mildest first
  return bands[byShade[bands.length - 1 - byShade.indexOf(b)]];
};
let bandLook = []; // of D.loss, as painted

// A browser whose graphics stop, as when a computer wakes or its driver begins
// anew, gives canvases back empty: a floor without its marks. What stood on them
// is painted again.
const whenEmptied = (c, again) => c.addEventListener('contextrestored', again);
whenEmptied(canvas, paintLost);
function paintLost() {
  last.k = 0;
  repaint();
}

// repaint paints with the next frame. While the view moves over a crowd of
// places that takes long to paint, the last painting is moved instead, and
// painted anew when it rests or, if that is quick enough, twice a second. A
// great many places are painted a part a frame, on a sheet of their own that
// is shown when it is whole, so that a hand never waits for them.
const slow = 7; // ms
const partOf = 3000; // places painted in one frame
const manyPlaces = N + then.n > 10000;
const sheet = () => { const c = document.createElement('canvas'); whenEmptied(c, paintLost); return { canvas: c, ctx: c.getContext('2d') }; };
let last = { ...sheet(), x: 0, y: 0, k: 0 }, next = manyPlaces ? sheet() : null;
let took = 0, paintedAt = 0; // how long the last painting took, and when it was done
let pending = 0, moving = false, stale = true, rest = 0;
let parts = null; // of the painting under way
function repaint() {
  moving = false;
  stale = true;
  request();
}
function moved() {
  if (!last.k || took < slow && !manyPlaces) return repaint();
  if (!pending || parts) moving = true;
  request();
  clearTimeout(rest);
  rest = setTimeout(repaint, 150);
}
function request() {
  pending ||= requestAnimationFrame(() => {
    pending = 0;
    const start = performance.now();
    if (moving && last.k && (manyPlaces || took > 60 || start - paintedAt < 500)) return showLast();
    if (manyPlaces) return paintPart();
    paint();
    paintedAt = performance.now();
    took = paintedAt - start;
  });
}

// paint paints all at once.
function paint() {
  parts = null;
  stale = false;
  finish(painting());
  if (took >= slow || manyPlaces) {
    fitSheet(last);
    copySheet(canvas, last.ctx);
  } else last.k = 0;
  finish(inPanes(paintOver));
}
const finish = steps => { while (!steps.next().done) { /* the next */ } };

// paintPart paints one part of a great many places; of a first view each part
// is shown at once, the plates first.
function paintPart() {
  if (stale || !parts) {
    fitSheet(next);
    parts = painting();
    stale = false;
  }
  ctx = next.ctx;
  const { done } = parts.next();
  ctx = screenOf;
  if (done) {
    parts = null;
    [last, next] = [next, last];
    showLast();
  } else {
    request();
    if (!last.k) copySheet(next.canvas, screenOf);
  }
}

function copySheet(from, to) {
  to.setTransform(1, 0, 0, 1, 0, 0);
  to.drawImage(from, 0, 0);
}

function fitSheet(s) {
  s.canvas.width = canvas.width;
  s.canvas.height = canvas.height;
  Object.assign(s, { x: view.x, y: view.y, k: view.k });
}

// showLast shows the last painting, moved to where the view is now.
function showLast() {
  const f = view.k / last.k, w = view.width, h = view.height;
  if (f === 1 && view.x === last.x && view.y === last.y) {
    copySheet(last.canvas, ctx);
    return finish(inPanes(paintOver));
  }
  clearCanvas();
  finish(inPanes(function* () {
    ctx.drawImage(last.canvas, view.left * ratio, view.top * ratio, w * ratio, h * ratio, sx(last.x) - f * w / 2, sy(last.y) - f * h / 2, f * w, f * h);
    yield* paintOver();
  }));
}

const sx = x => (x - view.x) * view.k + view.width / 2;
const sy = y => (y - view.y) * view.k + view.height / 2;
const inSight = (x, y, room) => x > -room && y > -room && x < view.width + room && y < view.height + room;

let ratio = 1;
const paperSize = [699, 510]; // 185 by 135 mm, as the style has the plan on paper
function fitCanvas() {
  const box = el('plan'), [width, height] = printing ? paperSize : [box.clientWidth, box.clientHeight];
  view.full = [width, height];
  view.stacked = height > width;
  view.width = beside && !view.stacked ? (width - paneGap) / 2 : width;
  view.height = beside && view.stacked ? (height - paneGap) / 2 : height;
  ratio = printing ? 3 : Math.min(3, devicePixelRatio || 1);
  canvas.width = Math.max(1, Math.round(width * ratio));
  canvas.height = Math.max(1, Math.round(height * ratio));
  last.k = 0;
}

const paneGap = 4; // pixels
// panes are the earlier inspection, when it stands beside, then this one.
function panes() {
  const now = { past: false, left: 0, top: 0 };
  if (!beside) return [now];
  const past = { past: true, left: 0, top: 0 };
  view.stacked ? now.top = view.height + paneGap : now.left = view.width + paneGap;
  return [past, now];
}

function clearCanvas() {
  ctx.setTransform(ratio, 0, 0, ratio, 0, 0);
  ctx.fillStyle = C.outside;
  ctx.fillRect(0, 0, ...view.full);
}

// inPanes paints each pane within its bounds, part by part.
function* inPanes(paintPane) {
  const list = panes();
  for (const p of list) {
    const steps = paintPane(p.past);
    for (let begun = false; ; begun = true) {
      Object.assign(view, { left: p.left, top: p.top });
      if (!begun) {
        ctx.save();
        toScreen();
        ctx.beginPath();
        ctx.rect(0, 0, view.width, view.height);
        ctx.clip();
      }
      const { done } = steps.next();
      if (done) ctx.restore();
      Object.assign(view, { left: 0, top: 0 });
      if (done) break;
      yield;
    }
  }
  if (list.length < 2) return;
  toScreen();
  ctx.fillStyle = C.steel;
  view.stacked ? ctx.fillRect(0, view.height, view.width, paneGap) : ctx.fillRect(view.width, 0, paneGap, view.height);
}

const toScreen = () => ctx.setTransform(ratio, 0, 0, ratio, ratio * view.left, ratio * view.top);
const toPlan = () => ctx.setTransform(ratio * view.k, 0, 0, ratio * view.k, ratio * (view.left + view.width / 2 - view.x * view.k), ratio * (view.top + view.height / 2 - view.y * view.k));

function* painting() {
  bandLook = D.loss.map((_, b) => shadeOf(D.loss, b));
  clearCanvas();
  yield* inPanes(!D.plan.known ? paintNone : past => (past ? paintPast() : paintNow()));
}

function* paintNone() {
  ctx.fillStyle = C.ink;
  ctx.font = '15px system-ui, sans-serif';
  ctx.textAlign = 'center';
  ctx.fillText(W.noPlan, view.width / 2, view.height / 2, view.width - 20);
}

function* paintNow() {
  labels.clear();
  repairLabels = [];
  paintPlates(false);
  if (layers.unexamined.on) paintUnexamined();
  if (layers.seams.on) paintSeams();
  if (layers.patches.on) paintPatches();
  if (layers.repairs.on) paintRepairs();
  if (layers.fixtures.on) paintFixtures();
  if (layers.numbers.on) paintPlateNumbers(false);
  yield;
  if (layers.previous.on) yield* paintThenOver();
  yield* paintMarks();
  if (layers.proveUps.on) paintProved();
  if (layers.readings.on) paintReadings();
  paintNotes();
  if (layers.photos.on) paintPhotos();
  yield;
  if (layers.verdicts.on) yield* paintUrgent();
  paintRepairLabels();
  if (layers.numbers.on && layers.indications.on) paintNumbers();
  if (then.known && (layers.previous.on || beside)) yield* paintChanges();
  paintSelection();
  paintCompass();
  if (beside) paintDate(say(W.nowAt, { date: D.previous.now }));
}

function* paintPast() {
  labels.clear();
  paintPlates(true);
  if (layers.seams.on) paintSeams();
  if (layers.fixtures.on) paintFixtures();
  if (layers.numbers.on) paintPlateNumbers(true);
  yield;
  yield* paintThen();
  paintSelection();
  paintDate(say(W.thenAt, { date: D.previous.end }));
}

function paintDate(text) {
  toScreen();
  halo(text, 10, 14, 'left', C.ink, true, 13);
}

// plateBand is the band a plate is shaded by, -1 without one.
function plateBand(s, i, past) {
  if (!s.bands) return -1;
  if (!past) return s.of(D.plates[i]);
  return s.then ? D.previous.plates[i]?.lossBand ?? -1 : -1;
}

function paintPlates(past) {
  const s = shades[shade];
  toPlan();
  ctx.lineWidth = 1 / view.k;
  ctx.strokeStyle = C.mist;
  D.plates.forEach((p, i) => {
    if (!outline[i]) return;
    const b = plateBand(s, i, past);
    ctx.fillStyle = b >= 0 ? shadeOf(s.bands, b).fill : p.sector ? C.ring : C.plate;
    ctx.fill(outline[i], 'evenodd');
    ctx.stroke(outline[i]);
  });
  if (s.tracks && !past) paintTracks(s);
  if (!D.plan.radius) return;
  ctx.beginPath();
  ctx.arc(0, 0, D.plan.radius, 0, 2 * Math.PI);
  ctx.strokeStyle = C.ink;
  ctx.lineWidth = 2.5 / view.k;
  ctx.stroke();
}

// A scanned plate shows each strip by its own largest loss.
const striped = new Set(D.tracks.map(t => t.plate));
function paintTracks(s) {
  ctx.lineWidth = 0.8 / view.k;
  ctx.strokeStyle = C.plate;
  for (const t of D.tracks) {
    const path = t.path ??= new Path2D(t.d);
    ctx.fillStyle = shadeOf(s.bands, t.band).fill;
    ctx.fill(path);
    ctx.stroke(path);
  }
  ctx.lineWidth = 1 / view.k;
  ctx.strokeStyle = C.mist;
  for (const i of striped) ctx.stroke(outline[i]);
}

function paintPlateNumbers(past) {
  toScreen();
  const s = shades[shade];
  D.plates.forEach((p, i) => {
    if (!p.placed) return;
    const x = sx(p.at[0]), y = sy(-p.at[1]), w = (p.box[2] - p.box[0]) * view.k, h = (p.box[3] - p.box[1]) * view.k;
    if (!inSight(x, y, 50)) return;
    const size = Math.min(13, Math.max(9, p.sector ? 0 : Math.min(h * 0.3, w * 0.22))), text = clip(p.label), wide = text.length * size * 0.55 + 4;
    if (h < 11 || w < wide) return;
    const b = plateBand(s, i, past), look = b >= 0 ? shadeOf(s.bands, b) : null;
    ctx.textAlign = 'center';
    ctx.textBaseline = 'middle';
    ctx.font = `600 ${size}px system-ui, sans-serif`;
    ctx.fillStyle = look ? look.over : C.steel;
    const put = (line, yy, small) => (look && s.tracks && striped.has(i) && !past ? halo(line, x, yy, 'center', C.ink, !small, small ? size * 0.85 : size) : ctx.fillText(line, x, yy));
    put(text, y, false);
    labels.take(x - wide / 2, y, wide, size);
    if (!look || past || h <= 2.6 * size || w <= 60) return;
    ctx.font = `${size * 0.85}px system-ui, sans-serif`;
    put(`${s.text(p)} ${s.bands[b].letter}`, y + size * 1.05, true);
    labels.take(x - 28, y + size, 56, size);
  });
}

const clip = text => (text.length > 14 ? text.slice(0, 13) + '…' : text);

function halo(text, x, y, align, colour, bold, size = 11) {
  ctx.font = `${bold ? '700 ' : ''}${size}px system-ui, sans-serif`;
  ctx.textAlign = align;
  ctx.textBaseline = 'middle';
  ctx.lineWidth = 3;
  ctx.lineJoin = 'round';
  ctx.strokeStyle = C.plate;
  ctx.strokeText(text, x, y);
  ctx.fillStyle = colour;
  ctx.fillText(text, x, y);
}

// labels is where text stands, in cells that move with the plan, so that
// labels hold still while it moves.
const labels = (() => {
  const cell = 12;
  let taken = new Uint8Array(0), across = 0, down = 0, ox = 0, oy = 0;
  const cells = (x, y, w, h) => [(x + ox) / cell | 0, (x + w + ox) / cell | 0, (y - h / 2 + oy) / cell | 0, (y + h / 2 + oy) / cell | 0];
  const visit = (c, test) => {
    for (let i = Math.max(0, c[0]); i <= Math.min(across - 1, c[1]); i++) for (let j = Math.max(0, c[2]); j <= Math.min(down - 1, c[3]); j++) if (test(i * down + j)) return true;
    return false;
  };
  return {
    clear() {
      across = Math.ceil(view.width / cell) + 2;
      down = Math.ceil(view.height / cell) + 2;
      taken = new Uint8Array(across * down);
      const part = v => ((Math.round(v) % cell) + cell) % cell;
      ox = part(view.x * view.k);
      oy = part(view.y * view.k);
    },
    take: (x, y, w, h) => void visit(cells(x, y, w, h), k => { taken[k] = 1; }),
    // room takes the room for a text if it is free.
    room(x, y, w, h) {
      const c = cells(x, y, w, h);
      if (visit(c, k => taken[k])) return false;
      visit(c, k => { taken[k] = 1; });
      return true;
    },
  };
})();
