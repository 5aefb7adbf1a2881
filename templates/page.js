// The start: the parts are put together, and if anything fails the drawing and
// table that need no script stand in their place.

function buildLayers() {
  for (const [id, l] of Object.entries(layers)) {
    const none = l.n === 0;
    l.check = make('input', { type: 'checkbox', id: 'layer-' + id, checked: l.on && !none, disabled: none });
    l.check.addEventListener('change', () => { showLayer(id, l.check.checked); });
    el('layers').append(make('div', { class: 'option' + (none ? ' none' : '') }, make('label', {}, l.check, l.name), id === 'photos' && D.photos.length ? photoCount() : make('span', { class: 'n' }, l.n === undefined ? '' : none ? W.none : String(l.n))));
  }
  for (const [id, s] of Object.entries(shades)) el('shade').append(make('option', { value: id }, s.name));
  el('shade').addEventListener('change', () => { shade = el('shade').value; showLegend(); repaint(); });
  el('dates-box').hidden = !then.known;
  if (!then.known) return;
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
const narrow = matchMedia('(max-width: 760px)');
function bring(id) {
  if (narrow.matches) el(id).scrollIntoView();
}

function tellUnplaced() {
  const plates = D.plates.filter(p => !p.placed).map(p => p.label), places = Array.from(px).filter(Number.isNaN).length;
  const parts = [];
  if (plates.length) parts.push(say(W.unplacedPlates, { list: plates.slice(0, 20).join(', ') + (plates.length > 20 ? ' …' : '') }));
  if (places) parts.push(say(W.unplacedPlaces, { n: places }));
  if (D.leftOut) parts.push(say(W.leftOutNote, { n: D.leftOut }));
  el('unplaced').replaceChildren(typed(parts.join(' ')));
}

// The places and figures of the head lead to the plan.
function linkFigures() {
  for (const note of document.querySelectorAll('[data-at], [data-show]')) {
    const { at, show } = note.dataset, i = placeByKey(at ?? ''), plate = D.plates.findIndex(p => p.label === at);
    if (!show && i === undefined && plate < 0) continue;
    const b = make('button', { type: 'button', class: 'link' }, typed(note.textContent));
    b.addEventListener('click', () => {
      if (show) return showFigure(show);
      if (i !== undefined) { choosePlace(i); zoomToPlace(i); } else { choosePlate(plate); zoomToPlate(plate); }
      bring('drawing');
    });
    note.replaceChildren(b);
  }
}

// On a wide screen the plan and its neighbours fill the window below the head.
function measureHead() {
  const open = document.querySelector('.condition').open;
  if (!open) document.documentElement.style.setProperty('--head', document.querySelector('header').offsetHeight + 'px');
}

// forPrint paints for paper what the screen shows, and back; a line tells what
// the filters leave out.
let onScreen = 0; // pixels a millimetre
function forPrint(on) {
  const { k, width, height } = view;
  printing = on;
  takeColours();
  showLegend();
  resize();
  if (Math.abs(view.k - wholeScale()) > 1e-9) {
    if (on) onScreen = k;
    view.k = on ? k * Math.min(view.width / width, view.height / height) : onScreen;
    paint();
  }
  el('printed').replaceChildren(typed([el('shown-short').textContent, ...filtersSet()].join('; ')));
}

function start() {
  el('floor').hidden = false;
  measureHead();
  addEventListener('resize', measureHead);
  takeColours();
  buildLayers();
  buildFilters();
  buildTable();
  buildView();
  buildFind();
  tellUnplaced();
  linkFigures();
  fitCanvas();
  showLegend();
  refilter();
  el('card').replaceChildren(...card());
  resize();
  darkScreen.addEventListener('change', () => { takeColours(); showLegend(); repaint(); });
  addEventListener('beforeprint', () => forPrint(true));
  addEventListener('afterprint', () => forPrint(false));
  addEventListener('hashchange', readAddress);
  readAddress();
  if (narrow.matches) for (const d of el('choose').querySelectorAll('details')) d.open = false;
}

let ready = 0; // when the page could be used, ms after it was asked for
try {
  start();
  ready = performance.now();
} catch (e) {
  el('floor').hidden = true;
  const still = document.querySelector('noscript'), box = document.createElement('div');
  box.innerHTML = still.textContent; // the page's own markup, workbook texts escaped in it
  still.replaceWith(box);
  box.querySelector('.plainly').textContent = say(W.failed, { why: String(e.message) });
  throw e;
}
