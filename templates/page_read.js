// What is selected, in words: the card beside the plan, the address, and the
// live text.

const selection = new Set(); // places
let other = null; // a plate, repair, note, photo, fixture, patch, earlier place, or a list: {kind, i}

let speech = 0;
function announce(text) {
  clearTimeout(speech);
  speech = setTimeout(() => { el('live').textContent = text; }, 150);
}

// summary is a place in one line.
function summary(i) {
  return [
    say(W.onPlate, { plate: plateOf(i) }), nameOf(i), `${W.loss} ${full(P.loss[i], 'share')}`, `${W.remaining} ${full(P.remaining[i], 'thickness')}`,
    word(P.basis, i), `${W.required} ${full(P.required[i], 'thickness')}`, `${W.margin} ${fullMargin(P.margin[i])}`, word(P.verdict, i),
    then.known && word(P.class, i) && say(W.sinceShort, { date: D.previous.end, class: word(P.class, i) }),
  ].filter(Boolean).join(', ');
}

function placeButton(i) {
  const b = make('button', { type: 'button', class: 'link' }, typed(keyOf(i)));
  b.addEventListener('click', () => { choosePlace(i); showOnPlan(i); });
  return b;
}

const keys = lazy(() => { // places by row key, folded; the first of equal ones
  const all = new Map();
  for (let i = N - 1; i >= 0; i--) all.set(fold(keyOf(i)), i);
  return all;
});
const placeByKey = key => keys().get(fold(key));

function choosePlace(i) {
  selection.clear();
  selection.add(i);
  other = null;
  active = anchor = i;
  setAddress('place', keyOf(i));
  selected();
  announce(summary(i));
  showOnPlan(i);
}

function toggle(i) {
  selection.has(i) ? selection.delete(i) : selection.add(i);
  other = null;
  selected();
  announce(say(W.selectedCount, { n: selection.size }));
}

function chooseSeveral(list) {
  selection.clear();
  list.forEach(i => selection.add(i));
  other = null;
  selected();
  announce(say(W.selectedCount, { n: selection.size }));
}

// choosePlate selects a plate; -1 nothing.
function choosePlate(i) { chooseOther(i < 0 ? null : { kind: 'plate', i }); }

function chooseOther(it) {
  selection.clear();
  other = it;
  if (it?.kind === 'plate') setAddress('plate', D.plates[it.i].label);
  else setAddress('', '');
  selected();
  if (it) announce(el('card').innerText.split('\n').slice(0, 8).join(', '));
}

let statisticsOf = 'all'; // what they were last made of
function selected() {
  el('card').replaceChildren(...card());
  if (selection.size === 1) bringRow([...selection][0]);
  fillTable();
  const of = selection.size > 1 ? 'several' : other?.kind === 'plate' ? other.i : 'all';
  if (of === 'several' || of !== statisticsOf) showStatistics();
  statisticsOf = of;
  repaint();
}

// The address names the plate or place selected, so that it can be sent, and
// going back returns to what was selected for more than a moment.
let written = '', since = -Infinity, reading = false;
function setAddress(kind, name) {
  const address = kind ? addressOf(kind, name) : '', now = performance.now();
  if (address === written) return;
  const write = reading || now - since < 1000 ? 'replaceState' : 'pushState';
  written = address;
  since = now;
  try {
    history[write](null, '', address || location.pathname + location.search);
  } catch {
    written = location.hash; // some places a page opens from forbid it
  }
}

function readAddress() {
  if (location.hash === written) return;
  written = location.hash;
  const m = /^#(plate|place)=(.*)$/.exec(location.hash);
  let name = m?.[2] ?? '';
  try { name = decodeURIComponent(name); } catch { /* as it stands */ }
  reading = true;
  if (!m) choosePlate(-1);
  else if (!goTo(name, m[1])) noneCalled(say(W.link, { name }));
  reading = false;
}

// noneCalled tells that a name asked for is not on this floor.
function noneCalled(text) {
  selection.clear();
  other = null;
  selected();
  el('card').replaceChildren(make('p', { class: 'hint' }, typed(text)));
  announce(text);
}

// goTo selects a plate, a place or a repair by its name, and shows it.
function goTo(name, kind) {
  const key = fold(name), plate = D.plates.findIndex(p => fold(p.label) === key);
  if (kind !== 'place' && plate >= 0) {
    choosePlate(plate);
    zoomToPlate(plate);
    return true;
  }
  const i = kind === 'plate' ? undefined : placeByKey(name);
  if (i !== undefined) {
    choosePlace(i);
    zoomToPlace(i);
    return true;
  }
  const r = kind ? -1 : D.repairs.findIndex(w => fold(w.label) === key);
  if (r < 0) return false;
  chooseOther({ kind: 'repair', i: r });
  return true;
}
