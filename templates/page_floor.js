// What the page knows of the floor: the data, how values are printed, and
// where a place in plan stands on its plate. Lengths are millimetres; plan
// coordinates have y upward, canvas and outlines have y downward.

begun = true;
const D = JSON.parse(document.getElementById('data').textContent);
const W = D.words;
const P = D.places;
const N = P.count;

const el = id => document.getElementById(id);

// make is an element with attributes and children; text is always text.
function make(tag, attributes = {}, ...children) {
  const e = document.createElement(tag);
  for (const [k, v] of Object.entries(attributes)) if (v !== false) e.setAttribute(k, v === true ? '' : v);
  e.append(...children);
  return e;
}

// lazy is what is made when it is first asked for, so that the first view does
// not wait for it.
const lazy = make => { let made; return () => (made ??= make()); };

// typed is a workbook's text: its direction is its own.
const typed = text => make('bdi', {}, text);

// say fills the holes of a sentence.
const say = (sentence, values) => sentence.replace(/\{(\w+)\}/g, (_, k) => values[k]);

// round prints v half away from zero, judged on its shortest decimal text, as
// the report does.
function round(v, decimals) {
  let short = String(Math.abs(v));
  if (short.includes('e')) short = Math.abs(v).toFixed(12);
  let [whole, frac = ''] = short.split('.');
  if (frac.length > decimals) {
    const digits = [...(whole + frac.slice(0, decimals))];
    let up = frac[decimals] >= '5';
    for (let i = digits.length - 1; up && i >= 0; i--) {
      if (digits[i] === '9') { digits[i] = '0'; continue; }
      digits[i] = String(Number(digits[i]) + 1);
      up = false;
    }
    if (up) digits.unshift('1');
    whole = digits.slice(0, digits.length - decimals).join('');
    frac = digits.slice(digits.length - decimals).join('');
  }
  const out = decimals ? whole + '.' + frac.padEnd(decimals, '0') : whole;
  return v < 0 && /[1-9]/.test(out) ? '-' + out : out;
}

// bare prints a stored value in the workbook's unit, "–" when unknown.
function bare(v, kind) {
  if (v === null || v === undefined || Number.isNaN(v)) return '–';
  const k = D.kinds[kind];
  return round(v / k.factor, k.decimals);
}

// full prints it with its unit.
function full(v, kind) {
  const t = bare(v, kind), u = D.kinds[kind].unit;
  if (t === '–' || !u) return t;
  return u === '°' ? t + u : t + '\u00a0' + u;
}

// marginOf prints a margin; one below zero never prints as zero.
function marginOf(v) {
  const k = D.kinds.thickness;
  let t = bare(v, 'thickness');
  for (let more = 1; v < 0 && more < 5 && !/[1-9]/.test(t); more++) t = round(v / k.factor, k.decimals + more);
  return t;
}
const fullMargin = v => (v === null ? '–' : marginOf(v) + '\u00a0' + D.kinds.thickness.unit);

// An interval is rounded down to a tenth of a year: never longer than it is.
const years = v => (v === null ? '–' : round(Math.floor(10 * (v + 1e-9)) / 10, 1) + '\u00a0' + D.kinds.time.unit);

// fold makes labels comparable: no case, no spaces, no leading zeros in any
// group of digits.
const fold = label => label.replace(/\s+/g, '').toLowerCase().replace(/\d+/g, d => d.replace(/^0+(?=\d)/, ''));

// column unfolds a column: what most rows have, and the rows that differ.
function column(c, n) {
  if (Array.isArray(c)) return c;
  const all = new Array(n).fill(c.most);
  for (const [i, v] of Object.entries(c.but)) all[i] = v;
  return all;
}
function unfold(part, n) {
  for (const [name, v] of Object.entries(part)) {
    if (v?.words) v.of = column(v.of, n);
    else if (v?.but) part[name] = column(v, n);
  }
}
unfold(P, N);

const millionth = v => Math.round(v * 1e6) / 1e6;
P.margin = P.remaining.map((r, i) => P.margin[i] ?? (i in P.margin || r === null || P.required[i] === null ? null : millionth(r - P.required[i])));

// Half the extents of a place along its plate's axes.
const halfOf = Array.from({ length: N }, (_, i) => P.half[i] ?? [P.length[i] / 2, P.width[i] / 2]);

// Columns as typed arrays, so that thousands of places are quick to walk.
const px = Float64Array.from(P.planX, v => v ?? NaN), py = Float64Array.from(P.planY, v => (v === null ? NaN : -v)); // y downward
const flags = list => { const a = new Uint8Array(N); for (const i of list) a[i] = 1; return a; };
const proved = flags(P.proved), faint = flags(P.faint), alone = flags(P.alone), hole = flags(P.hole), byPlace = flags(P.byPlace);
const word = (list, i) => list.words[list.of[i]];
const isUrgent = ['repair first', 'repair', 'engineering'];
const urgent = new Uint8Array(N);
for (let i = 0; i < N; i++) urgent[i] = isUrgent.includes(word(P.verdict, i)) ? 1 : 0;

const plateOf = i => (P.plate[i] >= 0 ? D.plates[P.plate[i]].label : P.typed[i] ?? '');
const keyOf = i => P.key[i] ?? plateOf(i) + '/' + P.id[i];
const nameOf = i => say(alone[i] ? W.proveUp : W.indication, { id: P.id[i] });

const provedOf = new Map(); // prove-ups by place
D.proved.forEach(u => provedOf.set(u.place, [...(provedOf.get(u.place) ?? []), u]));

// The worst last, so that it lies on top: what counts for nothing first, then
// unknown losses, then by loss.
const byLoss = Int32Array.from({ length: N }, (_, i) => i).sort((a, b) =>
  faint[b] - faint[a] || (P.loss[a] ?? -1e9) - (P.loss[b] ?? -1e9) || a - b);

// The least margin first; unknown margins last.
const byMargin = lazy(() => Array.from({ length: N }, (_, i) => i).sort((a, b) =>
  (P.margin[a] ?? 1e9) - (P.margin[b] ?? 1e9) || a - b));

const outline = D.plates.map(p => (p.d ? new Path2D(p.d) : null));
const probe = document.createElement('canvas').getContext('2d');

// plateAt is the plate under a place, -1 without one.
function plateAt(x, y) {
  for (let i = 0; i < D.plates.length; i++) {
    const p = D.plates[i], b = p.box;
    if (!b || p.sump || x < b[0] || x > b[2] || y < b[1] || y > b[3]) continue;
    if (probe.isPointInPath(outline[i], x, y, 'evenodd')) return i;
  }
  return -1;
}

// sumpAt is the fixture that a sump's plate lies under, -1 without one: such a
// plate is below the floor and has no outline on it.
const sumpAt = i => (D.plates[i]?.sump && !D.plates[i].placed ? D.fixtures.findIndex(f => fold(f.name) === fold(D.plates[i].label)) : -1);

const degrees = r => r * (180 / Math.PI), radians = d => d * (Math.PI / 180);
const turn = d => ((d % 360) + 360) % 360;

// drawnAt is clockwise from the drawing's north; bearingAt is null when the
// workbook does not say where north is.
const drawnAt = (x, yUp) => turn(D.plan.up + degrees(Math.atan2(x, yUp)));
const bearingAt = (x, yUp) => (D.plan.north ? drawnAt(x, yUp) : null);

// fromDatum is the position of a place from the plate's datum corner, null
// when that corner is not known. On an annular plate X is the arc at the
// shell, clockwise from the first radial seam, and Y goes inward.
function fromDatum(i, x, yUp) {
  const p = D.plates[i];
  if (p.sector) {
    const half = (p.end - p.start) / 2;
    let away = turn(drawnAt(x, yUp) - p.start - half);
    if (away > 180) away -= 360;
    return [radians(away + half) * D.plan.radius, D.plan.radius - Math.hypot(x, yUp)];
  }
  const sin = Math.sin(radians(p.turned)), cos = Math.cos(radians(p.turned));
  const dx = x - p.origin[0], dy = yUp - p.origin[1];
  const u = dx * cos + dy * sin, v = dy * cos - dx * sin;
  switch (p.corner) {
    case '': case 'bottom left': return [u, v];
    case 'bottom right': return p.sized ? [p.length - u, v] : null;
    case 'top left': return p.sized ? [u, p.width - v] : null;
    case 'top right': return p.sized ? [p.length - u, p.width - v] : null;
  }
  return null;
}

// polar is a place in plan by radius and bearing; y upward.
function polar(r, bearing) {
  const a = radians(bearing - D.plan.up);
  return [r * Math.sin(a), r * Math.cos(a)];
}

// datumOf is the plate's datum corner in plan, y upward, and the directions of
// X and Y from it; null when that corner is not known.
function datumOf(i) {
  const p = D.plates[i];
  if (!p.placed || p.sector) return null;
  const right = p.corner.endsWith('right'), top = p.corner.startsWith('top');
  if ((right || top) && !p.sized) return null;
  const sin = Math.sin(radians(p.turned)), cos = Math.cos(radians(p.turned));
  const u = right ? p.length : 0, v = top ? p.width : 0, sx = right ? -1 : 1, sy = top ? -1 : 1;
  return { at: [p.origin[0] + u * cos - v * sin, p.origin[1] + u * sin + v * cos], x: [sx * cos, sx * sin], y: [-sy * sin, sy * cos] };
}

// cornerOf names the corner that positions on a plate are measured from.
const cornerOf = p => (p.sector ? W.cornerRing : say(W.corner, { corner: p.corner || 'bottom left' }));

// describe says where a place in plan is.
function describe(x, y) {
  const parts = [], i = plateAt(x, y);
  if (i < 0) parts.push(W.offPlan);
  else {
    const p = D.plates[i], at = fromDatum(i, x, -y);
    parts.push(say(W.pointPlate, { plate: p.label }));
    if (!at) parts.push(W.pointAtNoCorner);
    else {
      parts.push(say(W.pointAt, {
        x: bare(at[0], 'position'), y: bare(at[1], 'position'), unit: D.kinds.position.unit,
        corner: cornerOf(p),
      }));
    }
  }
  const b = bearingAt(x, -y), r = full(Math.hypot(x, y), 'height');
  parts.push(b === null ? say(W.pointPolarNoNorth, { radius: r }) : say(W.pointPolar, { bearing: full(b, 'bearing'), radius: r }));
  return parts.join(', ');
}

// A grid finds the places near a point.
function gridOf(n, xs, ys, half) {
  const [x1, y1, x2, y2] = D.plan.extent, cell = Math.max(x2 - x1, y2 - y1, 1) / 96, cells = new Map();
  let reach = 0;
  const at = v => Math.floor(v / cell);
  for (let i = 0; i < n; i++) {
    if (Number.isNaN(xs[i])) continue;
    reach = Math.max(reach, half[i][0], half[i][1]);
    const k = at(xs[i]) * 4096 + at(ys[i]);
    if (!cells.has(k)) cells.set(k, []);
    cells.get(k).push(i);
  }
  return {
    // near visits the places whose centre is within r of x, y along both axes.
    near(x, y, r, visit) {
      for (let c = at(x - r); c <= at(x + r); c++) {
        for (let d = at(y - r); d <= at(y + r); d++) {
          for (const i of cells.get(c * 4096 + d) ?? []) visit(i);
        }
      }
    },
    reach: Math.min(reach, 5000),
  };
}
const grid = lazy(() => gridOf(N, px, py, halfOf));
