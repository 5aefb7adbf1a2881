// Moving about the plan: wheel, fingers, mouse and keys; and what a point hits.

let hand = null; // where the keyboard points, in plan, y downward
let frame = null; // the area being drawn with Shift, in pixels

const extent = () => { const [x1, y1, x2, y2] = D.plan.extent; return { w: Math.max(1, x2 - x1), h: Math.max(1, y2 - y1), x: (x1 + x2) / 2, y: (y1 + y2) / 2 }; };

function fit() {
  const e = extent();
  view.x = e.x;
  view.y = e.y;
  view.k = Math.min((view.width - 24) / e.w, (view.height - 24) / e.h);
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
function zoomToPlace(i) {
  if (Number.isNaN(px[i])) return;
  const size = Math.max(40, halfOf[i][0], halfOf[i][1]);
  zoomTo(px[i], py[i], Math.max(view.k, Math.min(0.25, 60 / size)));
}
function zoomToPlate(i) {
  const b = D.plates[i].box;
  if (b) zoomTo((b[0] + b[2]) / 2, (b[1] + b[3]) / 2, 0.86 * Math.min(view.width / (b[2] - b[0]), view.height / (b[3] - b[1])));
}
// showOnPlan moves the view only when the place is out of sight.
function showOnPlan(i) {
  const x = sx(px[i]), y = sy(py[i]);
  if (!Number.isNaN(x) && (x < 20 || y < 20 || x > view.width - 20 || y > view.height - 20)) zoomTo(px[i], py[i], view.k);
}

// placeUnder is the place whose mark is at a pixel: the one lying on top, else
// the nearest within reach.
function placeUnder(x, y, reach) {
  const X = planX(x), Y = planY(y);
  let best = -1, bestGap = Infinity, bestLoss = -Infinity;
  grid.near(X, Y, grid.reach + (reach + leastMark) / view.k, i => {
    if (!shown[i] || (alone[i] ? !layers.proveUps.on : !layers.indications.on)) return;
    const a = radians(P.turned[i]), dx = X - px[i], dy = Y - py[i];
    const u = Math.abs(dx * Math.cos(a) - dy * Math.sin(a)) * view.k, v = Math.abs(dx * Math.sin(a) + dy * Math.cos(a)) * view.k;
    const gap = Math.hypot(Math.max(0, u - Math.max(leastMark / 2, halfOf[i][0] * view.k)), Math.max(0, v - Math.max(leastMark / 2, halfOf[i][1] * view.k)));
    const loss = faint[i] ? -2 : P.loss[i] ?? -1;
    if (gap > reach || gap > bestGap || gap === bestGap && loss < bestLoss) return;
    best = i;
    bestGap = gap;
    bestLoss = loss;
  });
  return best;
}

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
    if (i >= 0) return { kind: 'fixture', i };
  }
  if (layers.patches.on && (i = D.patches.findIndex(within)) >= 0) return { kind: 'patch', i };
  i = plateAt(X, Y);
  return i >= 0 ? { kind: 'plate', i } : null;
}

function pickAt(x, y, add, reach) {
  const i = placeUnder(x, y, reach);
  if (i >= 0) add ? toggle(i) : choosePlace(i);
  else if (!add) chooseOther(otherUnder(x, y, reach));
}

// point tells what is under a pixel.
function point(x, y, aloud) {
  const where = describe(planX(x), planY(y)), i = placeUnder(x, y, 3);
  const text = i >= 0 ? `${where}. ${summary(i)}` : where;
  el('pointed').textContent = text;
  if (aloud) announce(text);
}

function buildView() {
  const plan = el('plan'), touches = new Map();
  let from = null, dragged = false, pinch = 0, hover = 0;
  const at = e => { const b = plan.getBoundingClientRect(); return { x: e.clientX - b.left - plan.clientLeft, y: e.clientY - b.top - plan.clientTop }; };

  plan.addEventListener('wheel', e => {
    e.preventDefault();
    const p = at(e), step = e.deltaY * (e.deltaMode === 1 ? 16 : e.deltaMode === 2 ? 400 : 1);
    zoomAt(p.x, p.y, Math.exp(-step * (e.ctrlKey ? 0.01 : 0.0018)));
  }, { passive: false });

  plan.addEventListener('pointerdown', e => {
    if (e.button > 0) return;
    plan.setPointerCapture(e.pointerId);
    plan.focus({ preventScroll: true });
    hand = null;
    const p = at(e);
    touches.set(e.pointerId, p);
    from = p;
    dragged = touches.size > 1;
    pinch = 0;
    frame = e.shiftKey && touches.size === 1 ? { x1: p.x, y1: p.y, x2: p.x, y2: p.y } : null;
  });
  plan.addEventListener('pointermove', e => {
    const p = at(e), old = touches.get(e.pointerId);
    if (!old) {
      cancelAnimationFrame(hover);
      hover = requestAnimationFrame(() => point(p.x, p.y, false));
      return;
    }
    if (!dragged && Math.hypot(p.x - from.x, p.y - from.y) < 5) return;
    dragged = true;
    touches.set(e.pointerId, p);
    if (frame) {
      frame.x2 = p.x;
      frame.y2 = p.y;
    } else if (touches.size === 1) {
      view.x -= (p.x - old.x) / view.k;
      view.y -= (p.y - old.y) / view.k;
      bound();
    } else {
      const [a, b] = [...touches.values()], wide = Math.hypot(a.x - b.x, a.y - b.y);
      if (pinch) zoomAt((a.x + b.x) / 2, (a.y + b.y) / 2, wide / pinch);
      pinch = wide;
      view.x -= (p.x - old.x) / view.k / touches.size;
      view.y -= (p.y - old.y) / view.k / touches.size;
    }
    frame ? repaint() : moved();
  });
  const up = e => {
    if (!touches.delete(e.pointerId)) return;
    const p = at(e);
    pinch = 0;
    if (e.type === 'pointercancel') frame = null;
    else if (frame && dragged) {
      const f = frame, within = (v, a, b) => v >= Math.min(a, b) && v <= Math.max(a, b);
      chooseSeveral(Array.from(byMargin).filter(i => shown[i] && within(sx(px[i]), f.x1, f.x2) && within(sy(py[i]), f.y1, f.y2)));
    } else if (!dragged) {
      pickAt(p.x, p.y, e.ctrlKey || e.metaKey, e.pointerType === 'touch' ? 12 : 3);
      point(p.x, p.y, false);
    }
    frame = null;
    repaint();
  };
  plan.addEventListener('pointerup', up);
  plan.addEventListener('pointercancel', up);
  plan.addEventListener('dblclick', e => { const p = at(e); zoomAt(p.x, p.y, 2); });
  plan.addEventListener('keydown', planKey);
  plan.addEventListener('focus', repaint);
  plan.addEventListener('blur', repaint);

  el('in').addEventListener('click', () => zoomAt(view.width / 2, view.height / 2, 1.5));
  el('out').addEventListener('click', () => zoomAt(view.width / 2, view.height / 2, 1 / 1.5));
  el('fit').addEventListener('click', fit);
  el('clear').addEventListener('click', () => choosePlate(-1));
  el('print').addEventListener('click', () => print());
  new ResizeObserver(() => { if (!printing) resize(); }).observe(plan);
}

// resize keeps the whole floor in view when it was, else the place in the middle.
let first = true;
function resize() {
  const e = extent(), whole = first || Math.abs(view.k - Math.min((view.width - 24) / e.w, (view.height - 24) / e.h)) < 1e-9;
  first = false;
  fitCanvas();
  if (whole) fit();
  paint(); // at once: a canvas that changed its size is empty
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
  repaint();
}

// step goes to the next place shown, the least margin first.
function step(by) {
  const list = Array.from(byMargin).filter(i => shown[i]);
  if (!list.length) return;
  const at = selection.size === 1 ? list.indexOf([...selection][0]) : -1;
  const i = list[(at < 0 ? (by > 0 ? 0 : list.length - 1) : at + by + list.length) % list.length];
  choosePlace(i);
  if (!Number.isNaN(px[i])) hand = { x: px[i], y: py[i] };
}
