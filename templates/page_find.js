// Going to a thing by what a person calls it, and the lists of what was found.

function buildFind() {
  const find = el('find');
  el('plates').append(...D.plates.map(p => make('option', { value: p.label })));
  el('seek').addEventListener('submit', e => {
    e.preventDefault();
    const name = find.value.trim();
    if (!name || goTo(name) || goToOther(name) || filterBy(name)) return;
    setAddress('', '');
    noneCalled(say(W.noneCalled, { name }));
  });
}

// goToOther selects what has no name of its own on the floor: an indication by
// its number alone, of which several plates may have one; a photo by number or
// file; a fixture.
function goToOther(name) {
  const key = fold(name);
  const list = byMargin().filter(i => fold(P.id[i]) === key);
  if (list.length === 1) {
    choosePlace(list[0]);
    zoomToPlace(list[0]);
    return true;
  }
  if (list.length) {
    chooseOther({ kind: 'named', i: list });
    return true;
  }
  if (D.photos.length && (key === fold(W.photos) || key === fold(say(W.photoName, { id: '' })))) {
    chooseOther({ kind: 'photos', i: 0 });
    return true;
  }
  const file = p => fold(p.file.replace(/^.*[\\/]/, ''));
  const photo = D.photos.findIndex(p => p.number && fold(say(W.photoName, { id: p.number })) === key || file(p) === key || file(p).replace(/\.[^.]*$/, '') === key);
  if (photo >= 0) {
    choosePhoto(photo);
    return true;
  }
  const fixture = D.fixtures.findIndex(f => fold(f.name) === key);
  if (fixture < 0) return false;
  chooseOther({ kind: 'fixture', i: fixture });
  return true;
}

function choosePhoto(i) {
  if (D.photos[i].at) showLayer('photos', true);
  chooseOther({ kind: 'photo', i });
}

function namedCard(list) {
  return [
    make('h3', {}, typed(say(W.namedTitle, { n: list.length, name: P.id[list[0]] }))),
    longList(list, i => make('li', {}, placeButton(i), `: ${full(P.loss[i], 'share')}, ${full(P.remaining[i], 'thickness')}, ${word(P.verdict, i) || '–'}`)),
  ];
}

function photoButton(i) {
  const p = D.photos[i], b = make('button', { type: 'button', class: 'link' }, typed(p.number ? say(W.photoName, { id: p.number }) : p.file));
  b.addEventListener('click', () => choosePhoto(i));
  return b;
}

function photosCard() {
  return [make('h3', {}, W.photos), longList(D.photos.map((_, i) => i), i => {
    const p = D.photos[i], words = [p.caption, p.plate && say(W.onPlate, { plate: p.plate }), p.missing].filter(Boolean).join(', ');
    return make('li', {}, photoButton(i), words ? ': ' : '', typed(words));
  }, 300)];
}

function photoCard(i) {
  const p = D.photos[i], plate = D.plates.findIndex(q => fold(q.label) === fold(p.plate ?? ''));
  const of = byMargin().filter(k => P.photos[k]?.includes(i));
  return [
    make('h3', {}, typed(p.number ? say(W.photoName, { id: p.number }) : p.file)), picture(i),
    valueList([[W.plate, plate < 0 ? p.plate && [typed(p.plate)] : [plateButton(plate)]], [W.photoOf, of.length ? of.slice(0, 20).map(k => make('div', {}, placeButton(k), ` ${full(P.remaining[k], 'thickness')}`)) : null]]),
    moves(button(W.allPhotos, () => chooseOther({ kind: 'photos', i: 0 }))),
  ];
}

// filterBy shows what a few words and limits ask for, "soil annular >40 %": any
// choice of the filters by its name, a plate, loss in percent, remaining
// thickness in its unit. What is not understood whole changes nothing.
function filterBy(text) {
  const limits = [], words = [], thickness = D.kinds.thickness.unit;
  let rest = ` ${text.toLowerCase()} `.replace(/([<>≤≥])\s*([\d.,]+)\s*([%a-z]+)/g, (all, sign, number, unit) => {
    const r = unit === '%' ? ranges[0] : unit === thickness ? ranges[1] : null;
    if (!r) return all;
    limits.push([r, '>≥'.includes(sign) ? 'from' : 'to', ('<>'.includes(sign) ? sign : '') + number]);
    return ' ';
  });
  const names = facets.flatMap(f => f.column.words.filter(Boolean).map(name => [f, name])).sort((a, b) => b[1].length - a[1].length);
  for (const [f, name] of names) {
    const at = rest.indexOf(` ${name.toLowerCase()} `);
    if (at < 0) continue;
    words.push([f, name]);
    rest = rest.slice(0, at + 1) + rest.slice(at + 1 + name.length);
  }
  rest = rest.trim();
  const plate = rest ? D.plates.findIndex(p => fold(p.label) === fold(rest)) : -1;
  if (rest && plate < 0 || !limits.length && !words.length || limits.some(([r, , t]) => !limitOf(t, r.kind))) return false;
  clearFilters();
  for (const [r, side, t] of limits) setLimit(r, side, t);
  for (const f of new Set(words.map(w => w[0]))) showOnly(f, words.filter(w => w[0] === f).map(w => w[1]), true);
  onlyPlate = rest ? plate : -2;
  el('of-plate').value = String(onlyPlate);
  refilter();
  chooseOther(null);
  el('card').replaceChildren(make('p', {}, el('shown-short').textContent, ': ', typed(filtersSet().join('; '))), moves(button(W.reset, showAll)));
  announce(el('card').innerText);
  return true;
}
