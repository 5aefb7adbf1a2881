// The cards: all that the page knows of one thing selected, and lists.

function card() {
  if (selection.size === 1) return placeCard([...selection][0]);
  if (selection.size > 1) return [make('p', {}, say(W.several, { n: selection.size })), make('p', { class: 'hint' }, W.severalHint)];
  if (!other) return [make('p', { class: 'hint' }, W.nothing)];
  return { unexamined: unexaminedCard, todo: todoCard, changes: changesCard, then: thenCard, plate: plateCard, repair: repairCard, note: noteCard, photo: photoCard, photos: photosCard, named: namedCard, fixture: fixtureCard, patch: patchCard }[other.kind](other.i);
}

// valueList is names and values; a value left out has no line.
function valueList(rows) {
  const dl = make('dl', { class: 'values' });
  for (const [name, v] of rows) {
    if (v === undefined || v === null || v === '') continue;
    dl.append(make('dt', {}, name), make('dd', { class: name === W.verdict ? 'verdict' : false }, ...(Array.isArray(v) ? v : [v])));
  }
  return dl;
}

const moves = (...items) => make('div', { class: 'moves' }, ...items.filter(Boolean));
function button(text, act) {
  const b = make('button', { type: 'button' }, text);
  b.addEventListener('click', act);
  return b;
}
const addressOf = (kind, name) => '#' + kind + '=' + encodeURIComponent(name);

function placeCard(i) {
  const band = P.band[i] < 0 ? '' : ` (${D.loss[P.band[i]].letter})`;
  const loss = full(P.loss[i], 'share') + band + (P.allowance[i] ? ', ' + say(W.allowance, { n: full(P.allowance[i], 'points') }) : '');
  const ups = provedOf.get(i) ?? [];
  const at = `X ${bare(P.x[i], 'position')}, Y ${full(P.y[i], 'position')}`;
  const placed = !Number.isNaN(px[i]);
  const bearing = placed ? bearingAt(px[i], -py[i]) : null;
  const remaining = full(P.remaining[i], 'thickness') + (word(P.basis, i) ? ` (${word(P.basis, i)})` : '') + (hole[i] ? ', ' + W.hole : '');
  return [
    make('h3', {}, typed(plateOf(i)), ' · ', typed(nameOf(i))),
    valueList([
      [W.loss, loss],
      [W.remaining, remaining],
      [W.required, full(P.required[i], 'thickness')],
      [W.margin, fullMargin(P.margin[i])],
      [W.verdict, word(P.verdict, i) || '–'],
      [W.repair, word(P.repair, i) && [repairOf(word(P.repair, i))]],
      [W.side, word(P.side, i)],
      [W.zone, word(P.zone, i) || '–'],
      ...thenRows(i),
      [W.position, [at, P.plate[i] >= 0 && ', ' + say(W.fromCorner, { corner: cornerOf(D.plates[P.plate[i]]) }), !placed && '; ' + (sumpAt(P.plate[i]) < 0 ? W.noPlace : W.inSump)].filter(Boolean).join('')],
      [W.bearing, placed ? `${bearing === null ? '–' : full(bearing, 'bearing')}, ${full(Math.hypot(px[i], py[i]), 'height')}` : null],
      [W.size, P.length[i] === null && P.width[i] === null ? null : `${bare(P.length[i], 'size')} × ${full(P.width[i], 'size')}`],
      [W.method, [word(P.method, i), word(P.type, i)].filter(Boolean).join(', ')],
      [W.proveUps, alone[i] ? null : ups.length ? ups.map(u => make('div', {}, typed(say(W.proveUpLine, { id: u.id, t: full(u.remaining, 'thickness'), means: u.means })), byPlace[i] ? ', ' + W.proveUpByPlace : '')) : W.notProved],
      [W.byWhom, [typed([word(P.by, i), word(P.date, i)].filter(Boolean).join(', '))]],
      [W.remarks, P.remarks[i] && [typed(P.remarks[i])]],
      [W.row, [typed(say(W.rowAt, { sheet: word(P.sheets, i), row: P.row[i] }))]],
      [W.photos, P.photos[i] ? null : W.noPhoto],
    ]),
    ...(P.photos[i] ?? []).map(picture),
    moves(placed && button(W.toPlate, () => zoomToPlace(i)), make('a', { href: addressOf('place', keyOf(i)) }, W.linkPlace)),
  ];
}

const repairWords = r => [r.kind, r.shape].filter(Boolean).join(', ') + (r.length === null ? '' : ` ${bare(r.length, 'size')} × ${full(r.width, 'size')}`);
const repairState = r => (r.done ? W.completed : r.proposed ? W.proposedShort : W.planned);

// repairLink leads to a repair, with what it is.
function repairLink(i) {
  const r = D.repairs[i], b = make('button', { type: 'button', class: 'link' }, typed(r.label));
  b.addEventListener('click', () => chooseOther({ kind: 'repair', i }));
  return make('span', {}, b, ` ${repairWords(r)}, ${repairState(r)}`);
}

// waiting is the places of a plate that need something done and have no
// repair.
function waiting(plate) {
  const list = byMargin().filter(i => P.plate[i] === plate && urgent[i] && !word(P.repair, i));
  return list.length ? list.map(i => make('div', {}, placeButton(i), ` ${word(P.verdict, i)}`)) : null;
}

// longList is a list that shows its first lines and tells of the rest.
function longList(items, line, most = 60) {
  const ul = make('ul', { class: 'lines' }, ...items.slice(0, most).map(line));
  if (items.length > most) ul.append(make('li', {}, say(W.more, { n: items.length - most })));
  return ul;
}

function plateButton(i) {
  const b = make('button', { type: 'button', class: 'link' }, typed(say(W.plateName, { id: D.plates[i].label })));
  b.addEventListener('click', () => choosePlate(i));
  return b;
}

function unexaminedCard() {
  const list = D.plates.map((_, i) => i).filter(i => D.plates[i].examined !== 100).sort((a, b) => (D.plates[a].examined ?? -1) - (D.plates[b].examined ?? -1) || a - b);
  return [
    make('h3', {}, W.unexaminedTitle), make('p', { class: 'hint' }, say(W.unexaminedHint, { n: list.length, all: D.plates.length })),
    longList(list, i => {
      const p = D.plates[i];
      return make('li', {}, plateButton(i), ': ' + (p.examined === null ? W.notRecorded : say(W.notExaminedShare, { n: full(millionth(100 - p.examined), 'share') })), p.reason ? make('span', {}, '; ', typed(p.reason)) : '');
    }, 200),
  ];
}

// todoCard lists by plate what is to be done there: how many repairs of which
// kind, and each of them; then what waits without a repair, and what is done.
function todoCard() {
  const open = [], done = [];
  D.repairs.forEach((r, i) => (r.done ? done : open).push(i));
  const plates = new Set(open.map(i => D.repairs[i].plate));
  const without = byMargin().filter(i => urgent[i] && !word(P.repair, i));
  const parts = [make('h3', {}, W.todoTitle), make('p', {}, plates.size ? say(W.todoCount, { list: kindsOf(open), n: plates.size }) : W.none)];
  const title = plate => (plate < 0 ? W.noPlate : plateButton(plate));
  parts.push(longList([...plates], plate => {
    const here = open.filter(i => D.repairs[i].plate === plate);
    return make('li', {}, title(plate), `: ${kindsOf(here)}`, make('ul', { class: 'lines' }, ...here.map(i => make('li', {}, repairLink(i)))));
  }, 300));
  if (without.length) parts.push(make('h3', {}, W.withoutRepair), longList(without, i => make('li', {}, placeButton(i), `: ${word(P.verdict, i)}, ${full(P.remaining[i], 'thickness')}`)));
  if (done.length) parts.push(make('h3', {}, W.doneTitle), longList(done, i => make('li', {}, title(D.repairs[i].plate), ': ', repairLink(i)), 300));
  return parts;
}

// kindsOf counts repairs by kind: "2 × patch, 1 × weld build-up".
function kindsOf(list) {
  const counts = new Map();
  for (const i of list) counts.set(D.repairs[i].kind, (counts.get(D.repairs[i].kind) ?? 0) + 1);
  return [...counts].map(([kind, n]) => `${n} × ${kind}`).join(', ');
}

// repairOf is what takes a place out, by the repair's label.
function repairOf(label) {
  const i = D.repairs.findIndex(r => r.label === label);
  return i < 0 ? typed(label) : repairLink(i);
}

function plateCard(i) {
  const p = D.plates[i], s = p.shares;
  const worst = placeByKey(p.worstAt), old = D.previous?.plates[i];
  return [
    make('h3', {}, typed(say(W.plateName, { id: p.label }))),
    valueList([
      [W.why, p.placed ? null : sumpAt(i) < 0 ? p.why || '–' : W.inSump],
      [W.worst, p.worst === null ? '–' : worst === undefined ? [say(W.at, { t: full(p.worst, 'thickness'), at: '' }), typed(p.worstAt)] : [full(p.worst, 'thickness') + ' ', placeButton(worst)]],
      [W.required, full(p.required, 'thickness')],
      [W.margin, fullMargin(p.margin)],
      [W.worstLoss, full(p.loss, 'share')],
      [W.interval, p.interval === null ? '–' : say(W.intervalText, { t: years(p.interval) })],
      [W.indications, say(W.indicationsText, { n: p.indications, p: p.provedUp })],
      [W.repairs, D.repairs.some(r => r.plate === i) ? D.repairs.flatMap((r, k) => (r.plate === i ? [make('div', {}, repairLink(k))] : [])) : p.repairs ? String(p.repairs) : W.none],
      [W.toDo, waiting(i)],
      [then.known ? say(W.thenAt, { date: D.previous.end }) : '', old && [[fold(old.label) === fold(p.label) ? '' : say(W.pointPlate, { plate: old.label }), `${W.worst} ${full(old.worst, 'thickness')}`, old.growth === null ? '' : `${W.growth} ${full(old.growth, 'rate')}`, old.replaced && say(W.replaced, { when: old.replaced })].filter(Boolean).join('; ')]],
      ...plateChanges(i),
      [W.nominal, full(p.nominal, 'thickness')],
      [W.sound, `${full(p.sound, 'thickness')} (${p.soundFrom})`],
      [W.plateType, p.type],
      [W.size, `${bare(p.length, 'size')} × ${full(p.width, 'size')}`],
      [W.area, full(p.area, 'area')],
      [W.examined, p.examined === null ? W.notRecorded : full(p.examined, 'share')],
      [W.coverage, say(W.coverageText, { a: full(s[0], 'share'), b: full(s[1], 'share'), c: full(s[2], 'share'), d: full(s[3], 'share') })],
      [W.reason, p.reason && [typed(p.reason)]],
      [W.remarks, p.remarks && [typed(p.remarks)]],
    ]),
    moves((p.placed || sumpAt(i) >= 0) && button(W.toPlate, () => zoomToPlate(i)), button(W.onlyPlate, () => showPlate(i)), make('a', { href: addressOf('plate', p.label) }, W.linkPlate)),
  ];
}

function repairCard(i) {
  const r = D.repairs[i];
  return [make('h3', {}, typed(say(W.repairName, { id: r.label }))), valueList([
    [W.type, [r.kind, r.shape].filter(Boolean).join(', ')],
    [W.status, r.done ? W.completed : r.proposed ? W.proposed : W.planned],
    [W.plate, r.plate >= 0 && [typed(D.plates[r.plate].label)]],
    [W.size, r.length === null ? null : `${bare(r.length, 'size')} × ${full(r.width, 'size')}`],
    [W.thickness, r.thickness === null ? null : full(r.thickness, 'thickness')],
    [W.centre, r.x === null ? null : `X ${bare(r.x, 'position')}, Y ${full(r.y, 'position')}` + (r.plate >= 0 ? ', ' + say(W.fromCorner, { corner: cornerOf(D.plates[r.plate]) }) : '')],
    [W.takes, r.takes && [typed(r.takes)]],
    [W.reasons, r.reasons && [typed(r.reasons.map(k => D.reasons[k]).join('; '))]],
    [W.fails, r.fails && r.fails.map(t => make('div', {}, t))],
    [W.remarks, r.remarks && [typed(r.remarks)]],
  ]), r.engineer ? make('p', {}, W.engineer) : ''];
}

function noteCard(i) {
  const n = D.notes[i];
  return [make('h3', {}, typed(say(n.weld ? W.weldName : W.visualName, { id: n.id }))), valueList([
    [n.weld ? W.result : W.weight, n.kind],
    [W.observation, n.text && [typed(n.text)]],
    [W.seam, n.plate && [typed(n.plate)]],
  ]), ...(n.photos ?? []).map(picture)];
}

const fixtureCard = i => [make('h3', {}, typed(say(W.fixtureName, { id: D.fixtures[i].name }))), valueList([[W.type, D.fixtures[i].kind]])];
const patchCard = i => [make('h3', {}, typed(say(W.patchName, { id: D.patches[i].name })))];

// picture is a photo with its words, or where it is to be found.
function picture(n) {
  const p = D.photos[n];
  const words = [p.number ? say(W.photoName, { id: p.number }) : '', p.caption, p.facing && say(W.facing, { facing: p.facing })].filter(Boolean).join(', ');
  const src = p.picture ?? (p.same && D.photos[p.same - 1].picture); // a file that several rows name is carried once
  if (src) return make('figure', {}, make('img', { src, alt: words || p.file }), make('figcaption', {}, typed(words || p.file)));
  const why = p.missing ? say(W.photoMissing, { file: p.file, why: p.missing }) : say(W.photoOnly, { file: p.file });
  return make('figure', {}, make('figcaption', {}, typed([words, why].filter(Boolean).join(': '))));
}

