// The previous inspection: its places laid on this plan, what became of them,
// and its part in filters, statistics and cards.

const then = (() => {
  const all = D.previous?.places ?? { count: 0, loss: [], remaining: [] }, n = all.count;
  unfold(all, n);
  const known = Boolean(D.previous) && D.previous.refused.length === 0;
  return {
    ...all, known, n,
    x: Float64Array.from({ length: n }, (_, j) => all.planX[j] ?? NaN),
    y: Float64Array.from({ length: n }, (_, j) => (all.planY[j] === null ? NaN : -all.planY[j])), // y downward
    half: Array.from({ length: n }, (_, j) => [all.halfU[j], all.halfV[j]]),
    shown: new Uint8Array(n).fill(1),
    lost: Array.from({ length: n }, (_, j) => j).filter(j => all.now[j] < 0), // without a place now
    worstLast: Array.from({ length: n }, (_, j) => j).sort((a, b) => (all.loss[a] ?? -1) - (all.loss[b] ?? -1) || a - b),
    refilter: filterThen, statistics: thenStatistics,
  };
})();
then.grid = lazy(() => gridOf(then.n, then.x, then.y, then.half));
const thenName = j => `${word(then.plate, j)}/${then.id[j]}`;
const thenClass = { grown: 'G', new: 'N' }; // marked on the plan, as they need an answer

// filterThen shows an earlier place with what it is now. One that is nothing
// now is judged by what is known of it: its plate, side, values and class.
function filterThen(set) {
  if (!then.known) return;
  const sides = facets.find(f => f.id === 'side');
  for (let j = 0; j < then.n; j++) {
    if (then.now[j] >= 0) { then.shown[j] = shown[then.now[j]]; continue; }
    const fits = set.every(r => r.old[j] !== null && !outside(r, r.old[j])) &&
      (onlyPlate === -2 || then.on[j] === onlyPlate) && !sides.off.has(P.side.words.indexOf(word(then.side, j)));
    const k = then.class.of[j];
    if (fits) classFacet.tally[k]++;
    then.shown[j] = fits && !classFacet.off.has(k) ? 1 : 0;
  }
}

// thenStatistics counts what became of the places; those of the previous
// inspection alone stand beside all that are shown, never in a part of them.
function thenStatistics(list, part) {
  if (!D.previous) return [];
  if (!then.known) return [make('h3', {}, W.previous), ...D.previous.refused.map(t => make('p', {}, typed(say(W.refused, { why: t }))))];
  const counts = new Uint32Array(P.class.words.length);
  for (const i of list) counts[P.class.of[i]]++;
  if (!part) for (const j of then.lost) if (then.shown[j]) counts[then.class.of[j]]++;
  const rows = P.class.words.map((name, k) => [name || W.notCompared, counts[k]]).filter(r => r[1]);
  const sides = D.previous.sides.map(s => [say(W.growthOn, { side: s.side }), s.growth === null ? W.noGrowth : [full(s.growth, 'rate') + ' ', keyButton(s.at), s.class && ` (${s.class})`]]);
  return [
    make('h3', {}, say(W.sinceDate, { date: D.previous.end })), bars(W.classes, rows), make('p', {}, W.ofFloor), valueList(sides),
    moves(button(W.showChanges, () => showFigure('grown'))),
  ];
}

// keyButton leads to a place by its row key.
function keyButton(key) {
  const i = placeByKey(key);
  return i === undefined ? typed(key) : placeButton(i);
}

function thenButton(j) {
  const b = make('button', { type: 'button', class: 'link' }, typed(thenName(j)));
  b.addEventListener('click', () => chooseOther({ kind: 'then', i: j }));
  return b;
}

// thenRows is what a place's card says of its past.
function thenRows(i) {
  const c = P.change[i];
  if (!then.known || !word(P.class, i)) return [];
  const rows = [[say(W.sinceDate, { date: D.previous.end }), word(P.class, i)]];
  if (!c) return rows;
  if (c.was !== null) rows.push([W.wasThen, [full(c.was, 'thickness'), ...(P.then[i] === undefined ? [] : [' (', thenButton(P.then[i]), c.distance === null ? '' : ', ' + say(W.away, { d: full(c.distance, 'position') }), ')'])]]);
  if (c.delta !== null) rows.push([W.change, say(c.delta > 0 ? W.thinner : c.delta < 0 ? W.thicker : W.same, { d: full(Math.abs(c.delta), 'thickness') })]);
  if (c.growth !== null) rows.push([W.growth, full(c.growth, 'rate') + (c.least !== null && c.most !== null ? ', ' + say(W.between, { a: bare(c.least, 'rate'), b: full(c.most, 'rate') }) : '')]);
  else if (c.points !== null) rows.push([W.trend, say(W.pointsYear, { n: full(c.points, 'points') })]);
  if (c.why) rows.push([W.changeWhy, [typed(c.why)]]);
  return rows;
}

function thenSummary(j) {
  return [
    say(W.thenAt, { date: D.previous.end }), say(W.onPlate, { plate: word(then.plate, j) }), say(W.indication, { id: then.id[j] }),
    `${W.loss} ${full(then.loss[j], 'share')}`, `${W.remaining} ${full(then.remaining[j], 'thickness')}`, `${W.now}: ${word(then.class, j)}`,
  ].join(', ');
}

function thenCard(j) {
  const i = then.now[j], placed = !Number.isNaN(then.x[j]);
  const bearing = placed ? bearingAt(then.x[j], -then.y[j]) : null;
  return [
    make('h3', {}, typed(say(W.thenName, { id: thenName(j), date: D.previous.end }))),
    valueList([
      [W.loss, full(then.loss[j], 'share')],
      [W.remaining, full(then.remaining[j], 'thickness') + (word(then.basis, j) ? ` (${word(then.basis, j)})` : '')],
      [W.side, word(then.side, j)],
      [W.now, word(then.class, j)],
      [W.changeWhy, then.why[j] && [typed(then.why[j])]],
      [W.isNow, i < 0 ? null : [placeButton(i), ` ${full(P.remaining[i], 'thickness')}`]],
      [W.bearing, placed ? `${bearing === null ? '–' : full(bearing, 'bearing')}, ${full(Math.hypot(then.x[j], then.y[j]), 'height')}` : W.noPlace],
    ]),
    then.on[j] >= 0 && placed ? '' : make('p', { class: 'hint' }, W.noCounterpart),
  ];
}

// changesCard is what grew and what is new, the fastest first.
function changesCard() {
  const first = new Set(D.previous.sides.map(s => fold(s.at ?? ''))), named = i => (first.has(fold(keyOf(i))) ? 0 : 1); // of equal rates those that the head names
  const grown = Array.from({ length: N }, (_, i) => i).filter(i => thenClass[word(P.class, i)] && shown[i])
    .sort((a, b) => (P.change[b]?.growth ?? -1) - (P.change[a]?.growth ?? -1) || named(a) - named(b) || (P.change[b]?.delta ?? 0) - (P.change[a]?.delta ?? 0) || a - b);
  const line = i => make('li', {}, placeButton(i), ': ' + changeWords(i));
  return [
    make('h3', {}, say(W.changesTitle, { date: D.previous.end, years: years(D.previous.years) })),
    make('p', { class: 'hint' }, say(W.changesHint, { n: grown.length, spread: full(D.previous.spread, 'thickness') })),
    longList(grown, line),
    ...(D.previous.notes.length ? [make('ul', {}, ...D.previous.notes.map(t => make('li', {}, typed(t))))] : []),
  ];
}

// plateChanges is what became of a plate's places: the counts, then those that
// grew or are new, the least margin first, and those not there any more.
function plateChanges(plate) {
  if (!then.known) return [];
  const here = byMargin().filter(i => P.plate[i] === plate), lost = then.lost.filter(j => then.on[j] === plate);
  const counts = new Uint32Array(P.class.words.length);
  for (const i of here) counts[P.class.of[i]]++;
  for (const j of lost) counts[then.class.of[j]]++;
  const told = P.class.words.map((name, k) => (counts[k] ? `${name || W.notCompared} ${counts[k]}` : '')).filter(Boolean).join(', ');
  const lines = [
    ...here.filter(i => thenClass[word(P.class, i)]).map(i => make('div', {}, placeButton(i), ': ' + changeWords(i))),
    ...lost.map(j => make('div', {}, thenButton(j), ': ' + word(then.class, j))),
  ];
  const most = 20;
  return [[say(W.sinceDate, { date: D.previous.end }), [told || W.none, ...lines.slice(0, most), lines.length > most ? make('div', {}, say(W.more, { n: lines.length - most })) : '']]];
}

// changeWords is what became of a place, from what to what, and how fast.
function changeWords(i) {
  const c = P.change[i] ?? {}, known = v => v !== null && v !== undefined;
  return [word(P.class, i), known(c.was) ? `${bare(c.was, 'thickness')} → ${full(c.is, 'thickness')}` : full(P.remaining[i], 'thickness'), known(c.growth) ? full(c.growth, 'rate') : W.noRate].join(', ');
}
