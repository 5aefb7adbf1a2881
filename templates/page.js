// The start: the parts are put together, the plan first.

function buildLayers() {
  for (const [id, l] of Object.entries(layers)) {
    const none = l.n === 0;
    l.check = make('input', { type: 'checkbox', id: 'layer-' + id, checked: l.on && !none, disabled: none });
    l.check.addEventListener('change', () => { showLayer(id, l.check.checked); });
    el('layers').append(make('div', { class: 'option' + (none ? ' none' : '') }, make('label', {}, l.check, l.name), id === 'photos' && D.photos.length ? photoCount() : make('span', { class: 'n' }, l.n === undefined ? '' : none ? W.none : String(l.n))));
  }
  for (const [id, s] of Object.entries(shades)) el('shade').append(make('option', { value: id }, s.name));
  el('shade').addEventListener('change', () => { shade = el('shade').value; showLegend(); repaint(); });
  for (const [id, name] of [['now', W.datesNow], ['over', W.datesOver], ['beside', W.datesBeside]]) el('dates').append(make('option', { value: id }, name));
  el('dates').addEventListener('change', () => showDates(el('dates').value));
}

// photoCount is the number of photos; it leads to their list.
function photoCount() {
  const b = make('button', { type: 'button', class: 'n', title: W.listPhotos, 'aria-label': `${W.listPhotos}, ${D.photos.length}` }, String(D.photos.length));
  b.addEventListener('click', () => { chooseOther({ kind: 'photos', i: 0 }); bring('read'); });
  return b;
}

function showLayer(id, on) {
  layers[id].on = layers[id].check.checked = on;
  if (id === 'previous') el('dates').value = beside ? 'beside' : on ? 'over' : 'now';
  showLegend();
  repaint();
}

// showDates shows this inspection, both over each other, or both side by side.
function showDates(how) {
  const whole = Math.abs(view.k - wholeScale()) < 1e-9;
  beside = how === 'beside';
  layers.previous.on = layers.previous.check.checked = how === 'over';
  el('dates').value = how;
  fitCanvas();
  if (whole) fit(); else bound();
  showLegend();
  repaint();
}

// showFigure shows on the plan, and lists in the card, what a figure of the
// head counts.
function showFigure(name) {
  if (name === 'unexamined') showLayer('unexamined', true);
  if (name === 'todo') showOnly(facets[0], isUrgent, true);
  if (name === 'grown') {
    if (!beside) showDates('over');
    showOnly(classFacet, Object.keys(thenClass), true);
  }
  refilter();
  chooseOther({ kind: name === 'grown' ? 'changes' : name, i: 0 });
  bring('read');
}

// bring scrolls to a part of the page where they stand below each other.
const narrow = matchMedia('screen and (max-width: 760px)');
function bring(id) {
  if (narrow.matches) el(id).scrollIntoView();
}

// arrange puts the plan before the figures on a narrow screen, and what is
// selected right under it; on paper all stands in its own order.
function arrange() {
  if (narrow.matches && !printing) {
    el('pointed').after(el('read'));
    el('beside').prepend(el('about'));
  } else {
    el('beside').prepend(el('read'));
    document.querySelector('header').append(el('about'));
  }
}

function tellUnplaced() {
  const plates = D.plates.filter((p, i) => !p.placed && sumpAt(i) < 0).map(p => p.label);
  let places = 0;
  const inSumps = new Map(); // places by sump
  for (let i = 0; i < N; i++) {
    if (!Number.isNaN(px[i])) continue;
    if (sumpAt(P.plate[i]) < 0) places++;
    else inSumps.set(P.plate[i], (inSumps.get(P.plate[i]) ?? 0) + 1);
  }
  el('below').replaceChildren(typed([...inSumps].map(([plate, n]) => say(W.placesInSump, { n, plate: D.plates[plate].label })).join(' ')));
  const parts = [];
  if (plates.length) parts.push(say(W.unplacedPlates, { list: plates.slice(0, 20).join(', ') + (plates.length > 20 ? ' …' : '') }));
  if (places) parts.push(say(W.unplacedPlaces, { n: places }));
  if (D.leftOut) parts.push(say(W.leftOutNote, { n: D.leftOut }));
  el('unplaced').replaceChildren(typed(parts.join(' ')));
}

// The places and figures of the head lead to the plan.
function linkFigures() {
  for (const note of document.querySelectorAll('[data-at], [data-show]')) {
    const { at, show } = note.dataset, i = at ? P.id.findIndex((_, k) => keyOf(k) === at) : -1, plate = D.plates.findIndex(p => p.label === at);
    if (!show && i < 0 && plate < 0) continue;
    const b = make('button', { type: 'button', class: 'link' }, typed(note.textContent));
    b.addEventListener('click', () => {
      if (show) return showFigure(show);
      if (i >= 0) { choosePlace(i); zoomToPlace(i); } else { choosePlate(plate); zoomToPlate(plate); }
      bring('drawing');
    });
    note.replaceChildren(b);
  }
}

// forPrint paints for paper what the screen shows, and back; a line tells what
// the filters leave out.
let onScreen = 0; // pixels a millimetre
let folded = false; // the signs were
function forPrint(on) {
  if (on) folded = !el('signs').open;
  el('signs').open = on || !folded;
  const { k, width, height } = view;
  printing = on;
  arrange();
  takeColours();
  showLegend();
  resize();
  if (Math.abs(view.k - wholeScale()) > 1e-9) {
    if (on) onScreen = k;
    view.k = on ? k * Math.min(view.width / width, view.height / height) : onScreen;
    paint();
  }
  el('printed').replaceChildren(typed([el('shown-short').textContent, ...filtersSet()].join('; ')), '. ', document.querySelector('.record').cloneNode(true).firstChild);
}

const nextTask = () => new Promise(go => { setTimeout(go); });
const nextFrame = () => (document.hidden ? nextTask() : new Promise(go => { requestAnimationFrame(() => setTimeout(go)); }));

// start shows the plan, and then, task by task, what stands beside it, so that
// neither the first view nor a hand waits for all of it.
let planned = 0; // when the plan was to be seen, as ready
async function start() {
  el('floor').hidden = false;
  arrange();
  el('signs').open = !narrow.matches && innerHeight > 800;
  if (narrow.matches) for (const d of el('choose').querySelectorAll('details')) d.open = false;
  el('dates-box').hidden = !then.known;
  takeColours();
  tellUnplaced();
  linkFigures();
  showLegend();
  resize();
  await nextFrame();
  planned = performance.now();
  const rest = [
    () => { buildLayers(); buildFilters(); buildView(); buildFind(); }, judge, buildTable, sortTable,
    () => { showStatistics(); el('card').replaceChildren(...card()); }, readAddress,
  ];
  let began = performance.now();
  for (const part of rest) {
    part();
    if (performance.now() - began < 30) continue;
    await nextTask();
    began = performance.now();
  }
  narrow.addEventListener('change', arrange);
  darkScreen.addEventListener('change', () => { takeColours(); showLegend(); repaint(); });
  addEventListener('beforeprint', () => forPrint(true));
  addEventListener('afterprint', () => forPrint(false));
  addEventListener('hashchange', readAddress);
  ready = performance.now();
}
start();
