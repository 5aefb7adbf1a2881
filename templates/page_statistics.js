// The statistics: of the places selected, when there are several, of those of
// the plate selected, else of all shown.

function showStatistics() {
  const several = selection.size > 1;
  const plate = other?.kind === 'plate' ? other.i : -1;
  const list = several ? [...selection] : Array.from(byLoss).filter(i => shown[i] && (plate < 0 || P.plate[i] === plate));
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
  const atPlace = (column, i) => (i < 0 ? '–' : [full(column[i], 'thickness') + ' ', placeButton(i)]);
  const values = valueList([
    [W.thinnestSoil, atPlace(P.remaining, soil)],
    [W.thinnestProduct, atPlace(P.remaining, product)],
    [W.leastMargin, tight < 0 ? '–' : [fullMargin(P.margin[tight]) + ' ', placeButton(tight)]],
    [W.bySide, P.side.words.map((s, k) => `${s} ${sides[k]}`).join(', ')],
    [W.worstLoss, losses.length ? full(losses[losses.length - 1], 'share') : '–'],
    [W.meanLoss, losses.length ? full(sum / losses.length, 'share') : '–'],
    [W.medianLoss, full(median, 'share')],
  ]);
  const byBand = D.loss.map((b, k) => [`${b.letter} ${b.name}`, bands[k]]).reverse();
  if (bands[D.loss.length]) byBand.push(['? ' + W.lossUnknown, bands[D.loss.length]]);
  el('numbers').replaceChildren(
    make('p', {}, several ? say(W.ofSelected, { n: list.length }) : plate < 0 ? say(W.ofShown, { n: list.length }) : typed(say(W.ofPlate, { n: list.length, plate: D.plates[plate].label }))),
    values, bars(W.lossBands, byBand), ...then.statistics(list, several || plate >= 0));
}

// bars is counts by name, each with its bar.
function bars(name, rows) {
  const box = make('div', { class: 'bars', role: 'group', 'aria-label': name });
  const most = Math.max(1, ...rows.map(r => r[1]));
  for (const [text, n] of rows) {
    const b = make('span', { class: 'bar', 'aria-hidden': 'true' });
    b.style.width = 100 * n / most + '%';
    box.append(make('span', {}, text), b, make('span', {}, String(n)));
  }
  return box;
}
