// Which places are shown, and the counts beside each choice.

const shown = new Uint8Array(N).fill(1);
let shownCount = N;

const facets = [
  { id: 'verdict', column: P.verdict, bit: 4 },
  { id: 'side', column: P.side, bit: 8 },
  { id: 'zone', column: P.zone, bit: 16 },
  { id: 'method', column: P.method, bit: 32 },
];
const classFacet = { id: 'class', column: P.class, bit: 64 };
if (then.known) facets.push(classFacet);
const ranges = [
  { id: 'loss', column: P.loss, old: then.loss, kind: 'share', bit: 1 },
  { id: 'remaining', column: P.remaining, old: then.remaining, kind: 'thickness', bit: 2 },
];
const plateBit = 128;
let onlyPlate = -2; // -2: all; -1: without a plate of the Plates sheet

// limitOf reads a limit; "<4" and ">4" leave 4 itself out. Null is no limit,
// undefined what cannot be read.
function limitOf(text, kind) {
  const m = /^([<>])?\s*(-?[\d.,]+)$/.exec(text.trim().replace(',', '.'));
  if (!text.trim()) return null;
  const v = m ? Number(m[2]) * D.kinds[kind].factor : NaN;
  return Number.isFinite(v) ? { v, open: m[1] !== undefined } : undefined;
}

const hair = 1.5e-6; // values stand in the page rounded to a millionth
function outside(r, v) {
  const { from, to } = r;
  return from && (from.open ? v < from.v + hair : v < from.v - hair) || to && (to.open ? v > to.v - hair : v > to.v + hair);
}

function buildFilters() {
  for (const r of ranges) {
    const unit = D.kinds[r.kind].unit, box = el('range-' + r.id);
    box.querySelector('legend').textContent = W[r.id] + ', ' + unit;
    const field = side => {
      const input = make('input', { type: 'text', inputmode: 'decimal', id: r.id + '-' + side, 'aria-label': `${W[r.id]} ${W[side]}, ${unit}`, 'aria-describedby': 'range-hint', placeholder: W[side], autocomplete: 'off' });
      input.addEventListener('input', () => { setLimit(r, side, input.value); refilter(); });
      r[side + 'Field'] = input;
      return input;
    };
    box.append(make('div', { class: 'range' }, field('from'), field('to')));
  }
  el('facet-class').hidden = !then.known;
  if (then.known) el('facet-class').querySelector('legend').textContent = say(W.sinceDate, { date: D.previous.end });
  for (const f of facets) buildFacet(f);
  const plate = el('of-plate');
  plate.append(make('option', { value: '-2' }, W.allPlates));
  D.plates.forEach((p, i) => plate.append(make('option', { value: i }, p.label)));
  if (P.plate.includes(-1)) plate.append(make('option', { value: '-1' }, W.blank));
  plate.addEventListener('change', () => {
    onlyPlate = Number(plate.value);
    refilter();
    if (onlyPlate < 0) fit(); else if (D.plates[onlyPlate].placed) zoomToPlate(onlyPlate);
  });
  el('shown-short').addEventListener('click', () => {
    plate.closest('details').open = true;
    bring('choose');
  });
  el('choose').addEventListener('submit', e => e.preventDefault());
  el('choose').addEventListener('reset', e => { e.preventDefault(); showAll(); });
}

// buildFacet writes the choices of a column; a choice alone is one click on
// its count.
function buildFacet(f) {
  f.off = new Set();
  f.counts = [];
  f.checks = [];
  const used = new Set(f.column.of);
  if (f === classFacet) for (const j of then.lost) used.add(then.class.of[j]);
  f.column.words.forEach((name, v) => {
    if (!used.has(v)) return;
    const text = name || W.blank;
    const check = make('input', { type: 'checkbox', checked: true, id: `${f.id}-${v}`, 'data-word': name });
    check.addEventListener('change', () => { check.checked ? f.off.delete(v) : f.off.add(v); refilter(); });
    const n = make('button', { type: 'button', class: 'n', title: say(W.only, { name: text }) });
    n.addEventListener('click', () => { showOnly(f, [name]); refilter(); });
    el('facet-' + f.id).append(make('div', { class: 'option' }, make('label', {}, check, text), n));
    f.counts[v] = n;
    f.checks[v] = check;
  });
}

// showOnly leaves the named choices of a facet on; if they already stand
// alone, all come back, unless they have to stay.
function showOnly(f, names, stay = false) {
  const keep = v => names.includes(f.column.words[v]);
  const alone = !stay && f.checks.every((c, v) => c.checked === keep(v));
  f.checks.forEach((c, v) => {
    c.checked = alone || keep(v);
    c.checked ? f.off.delete(v) : f.off.add(v);
  });
}

// setLimit sets a limit of a range as it was typed.
function setLimit(r, side, text) {
  const limit = limitOf(text, r.kind), field = r[side + 'Field'];
  if (field.value !== text) field.value = text;
  field.setAttribute('aria-invalid', String(limit === undefined));
  r[side] = limit ?? null;
}

function clearFilters() {
  for (const r of ranges) for (const side of ['from', 'to']) setLimit(r, side, '');
  for (const f of facets) {
    f.off.clear();
    for (const c of f.checks) if (c) c.checked = true;
  }
  onlyPlate = -2;
  el('of-plate').value = '-2';
}

function showAll() {
  clearFilters();
  refilter();
}

function showPlate(i) {
  onlyPlate = i;
  el('of-plate').value = String(i);
  refilter();
}

// filtersSet is each filter that leaves something out, in words.
function filtersSet() {
  const out = [];
  for (const r of ranges) {
    const ends = [r.from && `${W.from} ${r.fromField.value.trim()}`, r.to && `${W.to} ${r.toField.value.trim()}`].filter(Boolean);
    if (ends.length) out.push(`${W[r.id]}, ${D.kinds[r.kind].unit}: ${ends.join(' ')}`);
  }
  if (onlyPlate !== -2) out.push(`${W.plate} ${onlyPlate < 0 ? W.blank : D.plates[onlyPlate].label}`);
  for (const f of facets) {
    const left = f.checks.flatMap((c, v) => (c.checked ? [f.column.words[v] || W.blank] : []));
    if (f.off.size) out.push(`${f === classFacet ? say(W.sinceDate, { date: D.previous.end }) : W[f.id]}: ${left.join(', ') || W.none}`);
  }
  return out;
}

function refilter() {
  judge();
  sortTable();
  showStatistics();
  repaint();
}

// judge judges every place by every filter at once: a choice's count is of the
// places that all other filters let through.
function judge() {
  for (const f of facets) f.tally = new Uint32Array(f.column.words.length);
  let unknown = 0, indications = 0, prove = 0, notRelevant = 0;
  const sides = new Uint32Array(P.side.words.length);
  const set = ranges.filter(r => r.from || r.to);
  shownCount = 0;
  for (let i = 0; i < N; i++) {
    let fails = 0, blank = false;
    for (const r of set) {
      const v = r.column[i];
      if (v === null) { fails |= r.bit; blank = true; } else if (outside(r, v)) fails |= r.bit;
    }
    if (onlyPlate !== -2 && P.plate[i] !== onlyPlate) fails |= plateBit;
    for (const f of facets) if (f.off.has(f.column.of[i])) fails |= f.bit;
    for (const f of facets) if ((fails & ~f.bit) === 0) f.tally[f.column.of[i]]++;
    shown[i] = fails ? 0 : 1;
    if (fails) { if (blank) unknown++; continue; }
    shownCount++;
    sides[P.side.of[i]]++;
    if (alone[i]) prove++; else indications++;
    if (!alone[i] && word(P.verdict, i) === 'not relevant') notRelevant++;
  }
  then.refilter(set);
  for (const f of facets) {
    f.counts.forEach((n, v) => {
      n.textContent = f.tally[v];
      n.parentElement.classList.toggle('none', f.tally[v] === 0);
    });
  }
  const lines = [P.side.words.map((s, k) => `${s} ${sides[k]}`).join(', ')];
  if (P.alone.length) lines.push(say(W.alone, { n: prove, all: P.alone.length }));
  if (notRelevant) lines.push(say(W.notRelevant, { n: notRelevant }));
  if (unknown) lines.push(say(W.hiddenUnknown, { n: unknown }));
  el('shown').replaceChildren(say(W.shown, { n: indications, all: N - P.alone.length }), ...lines.map(t => make('small', {}, t)));
  el('shown-short').textContent = say(W.shown, { n: indications, all: N - P.alone.length });
}
