// Moving about the plan: wheel, fingers, mouse and keys; and what a point hits.

let hand = null; // where the keyboard points, in plan, y downward
let frame = null; // the area being drawn with Shift, in pixels

const extent = () => { const [x1, y1, x2, y2] = D.plan.extent; return { w: Math.max(1, x2 - x1), h: Math.max(1, y2 - y1), x: (x1 + x2) / 2, y: (y1 + y2) / 2 }; };

function fit() {
  const e = extent();
  view.x = e.x;
  view.y = e.y;
  view.k = wholeScale();
  repaint();
}

function bound() {
  const e = extent(), least = Math.min(view.width / e.w, view.height / e.h) / 3;
  view.k = Math.min(4, Math.max(least, view.k)); // 4 pixels a millimetre
  view.x = Math.min(e.x + e.w * 0.7, Math.max(e.x - e.w * 0.7, view.x));
  view.y = Math.min(e.y + e.h * 0.7, Math.max(e.y - e.h * 0.7, view.y));
}

const planX = x => (x - view.width / 2) / view.k + view.x;
const planY = y => (y - view.height / 2) / view.k + view.y;

// zoomAt zooms so that the place under a pixel stays there.
function zoomAt(x, y, factor) {
  const ox = planX(x), oy = planY(y);
  view.k *= factor;
  bound();
  view.x = ox - (x - view.width / 2) / view.k;
  view.y = oy - (y - view.height / 2) / view.k;
  bound();
  moved();
}

function zoomTo(x, y, k) {
  view.x = x;
  view.y = y;
  view.k = k;
  bound();
  repaint();
}
// zoomToPlace shows a place with its whole plate, and so the corner that it is
// measured from; along the ring with its surroundings.
function zoomToPlace(i) {
  if (Number.isNaN(px[i])) return;
  const p = D.plates[P.plate[i]];
  if (p?.placed && !p.sector) return zoomToPlate(P.plate[i]);
  const size = Math.max(40, halfOf[i][0], halfOf[i][1]);
  zoomTo(px[i], py[i], Math.max(view.k, Math.min(0.25, 60 / size)));
}
function zoomToPlate(i) {
  const sump = D.fixtures[sumpAt(i)];
  const b = sump ? [sump.at[0] - 2 * sump.l, -sump.at[1] - 2 * sump.w, sump.at[0] + 2 * sump.l, -sump.at[1] + 2 * sump.w] : D.plates[i].box;
  if (b) zoomTo((b[0] + b[2]) / 2, (b[1] + b[3]) / 2, 0.86 * Math.min(view.width / (b[2] - b[0]), view.height / (b[3] - b[1])));
}
// showOnPlan moves the view only when the place is out of sight.
function showOnPlan(i) {
  const x = sx(px[i]), y = sy(py[i]);
  if (!Number.isNaN(x) && (x < 20 || y < 20 || x > view.width - 20 || y > view.height - 20)) zoomTo(px[i], py[i], view.k);
}

// nearest is the mark at a pixel: the one lying on top, else the nearest
// within reach.
function nearest(grid, x, y, reach, visible, markOf) {
  const X = planX(x), Y = planY(y);
  let best = -1, bestGap = Infinity, bestLoss = -Infinity;
  grid.near(X, Y, grid.reach + (reach + leastMark) / view.k, i => {
    if (!visible(i)) return;
    const [mx, my, half, turned, loss] = markOf(i);
    const a = radians(turned), dx = X - mx, dy = Y - my;
    const u = Math.abs(dx * Math.cos(a) - dy * Math.sin(a)) * view.k, v = Math.abs(dx * Math.sin(a) + dy * Math.cos(a)) * view.k;
    const gap = Math.hypot(Math.max(0, u - Math.max(leastMark / 2, half[0] * view.k)), Math.max(0, v - Math.max(leastMark / 2, half[1] * view.k)));
    if (gap > reach || gap > bestGap || gap === bestGap && loss < bestLoss) return;
    best = i;
    bestGap = gap;
    bestLoss = loss;
  });
  return best;
}

const placeUnder = (x, y, reach) => nearest(grid(), x, y, reach, markShown, i => [px[i], py[i], halfOf[i], P.turned[i], faint[i] ? -2 : P.loss[i] ?? -1]);
const thenUnder = (x, y, reach) => nearest(then.grid(), x, y, reach, j => then.shown[j], j => [then.x[j], then.y[j], then.half[j], then.turned[j], then.loss[j] ?? -1]);

// otherUnder is what else is at a pixel, the plate last.
function otherUnder(x, y, reach) {
  const near = at => at && at[0] !== null && Math.hypot(sx(at[0]) - x, sy(-at[1]) - y) < 7 + reach;
  let i = D.notes.findIndex(n => noteShown(n) && near(n.at));
  if (i >= 0) return { kind: 'note', i };
  if (layers.photos.on && (i = D.photos.findIndex(p => near(p.at))) >= 0) return { kind: 'photo', i };
  const X = planX(x), Y = planY(y), within = o => o.path && probe.isPointInPath(o.path, X, Y);
  if (layers.repairs.on && (i = D.repairs.findIndex(r => r.d && (near(r.at) || within(r)))) >= 0) return { kind: 'repair', i };
  if (layers.fixtures.on) {
    i = D.fixtures.findIndex(f => Math.abs(X - f.at[0]) < Math.max(4 / view.k, f.l / 2) && Math.abs(Y + f.at[1]) < Math.max(4 / view.k, f.w / 2));
    const sump = D.plates.findIndex((_, k) => i >= 0 && sumpAt(k) === i);
    if (sump >= 0) return { kind: 'plate', i: sump };
    if (i >= 0) return { kind: 'fixture', i };
  }
  if (layers.patches.on && (i = D.patches.findIndex(within)) >= 0) return { kind: 'patch', i };
  i = plateAt(X, Y);
  return i >= 0 ? { kind: 'plate', i } : null;
}

// thenShownAt is the earlier place at a pixel, where earlier places are shown.
const thenShownAt = (x, y, reach, past) => (past || layers.previous.on ? thenUnder(x, y, reach) : -1);

function pickAt(x, y, add, reach, past) {
  const i = past ? -1 : placeUnder(x, y, reach), j = i >= 0 ? -1 : thenShownAt(x, y, reach, past);
  if (i >= 0) add ? toggle(i) : choosePlace(i);
  else if (j >= 0) chooseOther({ kind: 'then', i: j });
  else if (!add) chooseOther(otherUnder(x, y, reach));
}

// point tells what is under a pixel.
function point(x, y, aloud, past) {
  const X = planX(x), Y = planY(y), i = past ? -1 : placeUnder(x, y, 3), j = i >= 0 ? -1 : thenShownAt(x, y, 3, past);
  const seam = layers.seams.on && seamAt(X, Y, 4);
  const text = [describe(X, Y) + (seam ? ', ' + say(W.seamAt, { kind: seam.kind, name: seam.name }) : ''), i >= 0 ? summary(i) : j >= 0 ? thenSummary(j) : ''].filter(Boolean).join('. ');
  el('pointed').textContent = text;
  if (aloud) announce(text);
}

// inPane is a pixel of the plan within its pane, and which pane that is.
function inPane(p) {
  const pane = panes().findLast(q => p.x >= q.left && p.y >= q.top) ?? panes()[0];
  return { x: p.x - pane.left, y: p.y - pane.top, past: pane.past };
}

function buildView() {
  const plan = el('plan'), touches = new Map();
  let from = null, dragged = false, pinch = 0, hover = 0;
  const at = e => { const b = plan.getBoundingClientRect(); return { x: e.clientX - b.left - plan.clientLeft, y: e.clientY - b.top - plan.clientTop }; };

  plan.addEventListener('wheel', e => {
    e.preventDefault();
    const p = inPane(at(e)), step = e.deltaY * (e.deltaMode === 1 ? 16 : e.deltaMode === 2 ? 400 : 1);
    zoomAt(p.x, p.y, Math.exp(-step * (e.ctrlKey ? 0.01 : 0.0018)));
  }, { passive: false });

  plan.addEventListener('pointerdown', e => {
    if (e.button > 0) return;
    plan.setPointerCapture(e.pointerId);
    plan.focus({ preventScroll: true });
    hand = null;
    const p = at(e), q = inPane(p);
    touches.set(e.pointerId, p);
    from = p;
    dragged = touches.size > 1;
    pinch = 0;
    frame = e.shiftKey && touches.size === 1 ? { x1: q.x, y1: q.y, x2: q.x, y2: q.y } : null;
  });
  plan.addEventListener('pointermove', e => {
    const p = at(e), old = touches.get(e.pointerId);
    if (!old) {
      cancelAnimationFrame(hover);
      hover = requestAnimationFrame(() => { const q = inPane(p); point(q.x, q.y, false, q.past); });
      return;
    }
    if (!dragged && Math.hypot(p.x - from.x, p.y - from.y) < 5) return;
    if (!dragged) touches.set(e.pointerId, from); // the floor follows from where it was taken
    const before = touches.get(e.pointerId);
    dragged = true;
    touches.set(e.pointerId, p);
    if (frame) {
      const q = inPane(p);
      frame.x2 = q.x;
      frame.y2 = q.y;
    } else {
      view.x -= (p.x - before.x) / view.k / touches.size;
      view.y -= (p.y - before.y) / view.k / touches.size;
      if (touches.size > 1) {
        const [a, b] = [...touches.values()], wide = Math.hypot(a.x - b.x, a.y - b.y), mid = inPane({ x: (a.x + b.x) / 2, y: (a.y + b.y) / 2 });
        if (pinch > 0 && wide > 0) zoomAt(mid.x, mid.y, wide / pinch);
        pinch = wide;
      }
      bound();
    }
    moved();
  });
  const up = e => {
    if (!touches.delete(e.pointerId)) return;
    const p = inPane(at(e));
    pinch = 0;
    if (e.type === 'pointercancel') frame = null;
    else if (frame && dragged) {
      const f = frame, within = (v, a, b) => v >= Math.min(a, b) && v <= Math.max(a, b);
      chooseSeveral(byMargin().filter(i => shown[i] && within(sx(px[i]), f.x1, f.x2) && within(sy(py[i]), f.y1, f.y2)));
    } else if (!dragged) {
      const touch = e.pointerType === 'touch';
      pickAt(p.x, p.y, e.ctrlKey || e.metaKey, touch ? 12 : 3, p.past);
      point(p.x, p.y, false, p.past);
    }
    frame = null;
    repaint();
  };
  plan.addEventListener('pointerup', up);
  plan.addEventListener('pointercancel', up);
  plan.addEventListener('dblclick', e => { const p = inPane(at(e)); zoomAt(p.x, p.y, 2); });
  plan.addEventListener('keydown', planKey);
  plan.addEventListener('focus', repaint);
  plan.addEventListener('blur', repaint);

  el('in').addEventListener('click', () => zoomAt(view.width / 2, view.height / 2, 1.5));
  el('out').addEventListener('click', () => zoomAt(view.width / 2, view.height / 2, 1 / 1.5));
  el('fit').addEventListener('click', fit);
  el('clear').addEventListener('click', () => choosePlate(-1));
  el('print').addEventListener('click', () => print());
  new ResizeObserver(() => { if (!printing && (plan.clientWidth !== view.full[0] || plan.clientHeight !== view.full[1])) resize(); }).observe(plan);
}

// resize keeps the whole floor in view when it was, else the place in the middle.
let first = true;
const wholeScale = () => { const e = extent(); return Math.min((view.width - 24) / e.w, (view.height - 24) / e.h); };
function resize() {
  const whole = first || Math.abs(view.k - wholeScale()) < 1e-9;
  first = false;
  fitCanvas();
  if (whole) fit();
  cancelAnimationFrame(pending);
  pending = 0;
  stale = true;
  manyPlaces && !printing ? paintPart() : paint(); // at once: a canvas that changed its size is empty
}

function planKey(e) {
  if (e.ctrlKey || e.metaKey || e.altKey) return;
  const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[e.key];
  const here = () => (hand ? [sx(hand.x), sy(hand.y)] : [view.width / 2, view.height / 2]);
  if (way) {
    if (e.shiftKey) {
      view.x += way[0] * 80 / view.k;
      view.y += way[1] * 80 / view.k;
      bound();
    } else {
      const [x, y] = here();
      hand = hand ? { x: planX(x + 12 * way[0]), y: planY(y + 12 * way[1]) } : { x: view.x, y: view.y };
      const [hx, hy] = here();
      if (hx < 20 || hy < 20 || hx > view.width - 20 || hy > view.height - 20) {
        view.x += way[0] * view.width / 3 / view.k;
        view.y += way[1] * view.height / 3 / view.k;
        bound();
      }
      point(sx(hand.x), sy(hand.y), true);
    }
  } else if (e.key === '+' || e.key === '=') zoomAt(...here(), 1.5);
  else if (e.key === '-' || e.key === '_') zoomAt(...here(), 1 / 1.5);
  else if (e.key === '0' || e.key === 'Home') fit();
  else if (e.key === 'Enter' || e.key === ' ') pickAt(...here(), e.shiftKey, 6);
  else if (e.key === 'n' || e.key === 'N') step(1);
  else if (e.key === 'p' || e.key === 'P') step(-1);
  else if (e.key === 'Escape') choosePlate(-1);
  else return;
  e.preventDefault();
  way ? moved() : repaint();
}

// step goes to the next place shown, the least margin first.
function step(by) {
  const list = byMargin().filter(i => shown[i]);
  if (!list.length) return;
  const at = selection.size === 1 ? list.indexOf([...selection][0]) : -1;
  const i = list[(at < 0 ? (by > 0 ? 0 : list.length - 1) : at + by + list.length) % list.length];
  choosePlace(i);
  if (!Number.isNaN(px[i])) hand = { x: px[i], y: py[i] };
}
