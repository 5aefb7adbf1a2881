// Which places are shown, the counts beside each choice, and the statistics.

const shown = new Uint8Array(N).fill(1);
let shownCount = N;

const facets = [
  { id: 'verdict', column: P.verdict, bit: 4 },
  { id: 'side', column: P.side, bit: 8 },
  { id: 'zone', column: P.zone, bit: 16 },
  { id: 'method', column: P.method, bit: 32 },
];
const ranges = [
  { id: 'loss', column: P.loss, kind: 'share', bit: 1, from: null, to: null },
  { id: 'remaining', column: P.remaining, kind: 'thickness', bit: 2, from: null, to: null },
];
const plateBit = 64;
let onlyPlate = -2; // -2: all; -1: without a plate of the Plates sheet

function buildFilters() {
  for (const r of ranges) {
    const unit = D.kinds[r.kind].unit;
    const box = el('range-' + r.id);
    box.querySelector('legend').textContent = W[r.id] + ', ' + unit;
    const field = side => {
      const input = make('input', { type: 'text', inputmode: 'decimal', id: r.id + '-' + side, 'aria-label': `${W[r.id]} ${W[side]}, ${unit}`, placeholder: W[side], autocomplete: 'off' });
      input.addEventListener('input', () => {
        const t = input.value.trim().replace(',', '.'), v = Number(t);
        const good = t === '' || Number.isFinite(v);
        input.setCustomValidity(good ? '' : '?');
        input.setAttribute('aria-invalid', String(!good));
        r[side] = t === '' || !good ? null : v * D.kinds[r.kind].factor;
        refilter();
      });
      r[side + 'Field'] = input;
      return input;
    };
    box.append(make('div', { class: 'range' }, field('from'), field('to')));
  }
  for (const f of facets) {
    f.off = new Set();
    f.counts = [];
    const used = new Set(f.column.of);
    f.column.words.forEach((name, v) => {
      if (!used.has(v)) return;
      const n = make('span', { class: 'n' });
      const check = make('input', { type: 'checkbox', checked: true, id: `${f.id}-${v}`, 'data-word': name });
      check.addEventListener('change', () => { check.checked ? f.off.delete(v) : f.off.add(v); refilter(); });
      el('facet-' + f.id).append(make('label', { class: 'option' }, check, name || W.blank, n));
      f.counts[v] = n;
    });
  }
  const plate = el('of-plate');
  plate.append(make('option', { value: '-2' }, W.allPlates));
  D.plates.forEach((p, i) => plate.append(make('option', { value: i }, p.label)));
  if (P.plate.includes(-1)) plate.append(make('option', { value: '-1' }, W.blank));
  plate.addEventListener('change', () => { onlyPlate = Number(plate.value); refilter(); });
  el('choose').addEventListener('submit', e => e.preventDefault());
  el('choose').addEventListener('reset', e => { e.preventDefault(); showAll(); });
}

function showAll() {
  for (const r of ranges) {
    for (const side of ['from', 'to']) {
      r[side] = null;
      r[side + 'Field'].value = '';
      r[side + 'Field'].setCustomValidity('');
      r[side + 'Field'].removeAttribute('aria-invalid');
    }
  }
  for (const f of facets) {
    f.off.clear();
    for (const c of el('facet-' + f.id).querySelectorAll('input')) c.checked = true;
  }
  onlyPlate = -2;
  el('of-plate').value = '-2';
  refilter();
}

function showPlate(i) {
  onlyPlate = i;
  el('of-plate').value = String(i);
  refilter();
}

// refilter judges every place by every filter at once: a choice's count is of
// the places that all other filters let through.
function refilter() {
  for (const f of facets) f.tally = new Uint32Array(f.column.words.length);
  let unknown = 0, indications = 0, prove = 0, notRelevant = 0;
  shownCount = 0;
  for (let i = 0; i < N; i++) {
    let fails = 0, blank = false;
    for (const r of ranges) {
      if (r.from === null && r.to === null) continue;
      const v = r.column[i];
      if (v === null) { fails |= r.bit; blank = true; } else if (r.from !== null && v < r.from - 1.5e-6 || r.to !== null && v > r.to + 1.5e-6) fails |= r.bit;
    }
    if (onlyPlate !== -2 && P.plate[i] !== onlyPlate) fails |= plateBit;
    for (const f of facets) if (f.off.has(f.column.of[i])) fails |= f.bit;
    for (const f of facets) if ((fails & ~f.bit) === 0) f.tally[f.column.of[i]]++;
    shown[i] = fails ? 0 : 1;
    if (fails) { if (blank) unknown++; continue; }
    shownCount++;
    if (alone[i]) prove++; else indications++;
    if (!alone[i] && word(P.verdict, i) === 'not relevant') notRelevant++;
  }
  for (const f of facets) {
    f.counts.forEach((n, v) => {
      n.textContent = f.tally[v];
      n.parentElement.classList.toggle('none', f.tally[v] === 0);
    });
  }
  const lines = [];
  if (P.alone.length) lines.push(say(W.alone, { n: prove, all: P.alone.length }));
  if (notRelevant) lines.push(say(W.notRelevant, { n: notRelevant }));
  if (unknown) lines.push(say(W.hiddenUnknown, { n: unknown }));
  el('shown').replaceChildren(say(W.shown, { n: indications, all: N - P.alone.length }), ...lines.map(t => make('small', {}, t)));
  sortTable();
  showStatistics();
  repaint();
}

// showStatistics is of the places selected, when there are several, else of
// those shown.
function showStatistics() {
  const several = selection.size > 1;
  const list = several ? [...selection] : Array.from(byLoss).filter(i => shown[i]);
  const bands = new Uint32Array(D.loss.length + 1), sides = new Uint32Array(P.side.words.length), losses = [];
  let sum = 0, soil = -1, product = -1, tight = -1;
  const less = (column, i, best) => column[i] !== null && (best < 0 || column[i] < column[best]);
  for (const i of list) {
    if (P.loss[i] !== null) { losses.push(P.loss[i]); sum += P.loss[i]; }
    bands[P.band[i] < 0 ? D.loss.length : P.band[i]]++;
    sides[P.side.of[i]]++;
    if (faint[i]) continue;
    const side = word(P.side, i);
    if (side !== 'product' && less(P.remaining, i, soil)) soil = i;
    if (side !== 'soil' && less(P.remaining, i, product)) product = i;
    if (less(P.margin, i, tight)) tight = i;
  }
  losses.sort((a, b) => a - b);
  const h = losses.length >> 1;
  const median = losses.length === 0 ? null : losses.length % 2 ? losses[h] : (losses[h - 1] + losses[h]) / 2;
  const values = make('dl', { class: 'values' });
  const row = (name, ...value) => values.append(make('dt', {}, name), make('dd', {}, ...value));
  const atPlace = (column, i) => (i < 0 ? ['–'] : [full(column[i], 'thickness') + ' ', placeButton(i)]);
  row(W.meanLoss, losses.length ? full(sum / losses.length, 'share') : '–');
  row(W.medianLoss, full(median, 'share'));
  row(W.worstLoss, losses.length ? full(losses[losses.length - 1], 'share') : '–');
  row(W.thinnestSoil, ...atPlace(P.remaining, soil));
  row(W.thinnestProduct, ...atPlace(P.remaining, product));
  row(W.leastMargin, ...(tight < 0 ? ['–'] : [fullMargin(P.margin[tight]) + ' ', placeButton(tight)]));
  const bars = make('div', { class: 'bars', role: 'group', 'aria-label': W.lossBands });
  const most = Math.max(1, ...bands);
  const bar = (name, n) => {
    const b = make('span', { class: 'bar', 'aria-hidden': 'true' });
    b.style.width = 100 * n / most + '%';
    bars.append(make('span', {}, name), b, make('span', {}, String(n)));
  };
  for (let b = D.loss.length - 1; b >= 0; b--) bar(`${D.loss[b].letter} ${D.loss[b].name}`, bands[b]);
  if (bands[D.loss.length]) bar('? ' + W.lossUnknown, bands[D.loss.length]);
  row(W.bySide, P.side.words.map((s, k) => `${s} ${sides[k]}`).join(', '));
  el('numbers').replaceChildren(make('p', {}, say(several ? W.ofSelected : W.ofShown, { n: list.length })), values, bars);
}
