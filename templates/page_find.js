// Going to a thing by what a person calls it, and the lists of what was found.

function buildFind() {
  const find = el('find');
  el('plates').append(...D.plates.map(p => make('option', { value: p.label })));
  el('seek').addEventListener('submit', e => {
    e.preventDefault();
    const name = find.value.trim();
    if (!name || goTo(name) || goToOther(name)) return;
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
