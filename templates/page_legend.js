// The legend: bands and signs of what is shown, and of nothing else. Where the
// window is small the signs are folded away.

function showLegend() {
  const swatch = band => {
    const s = make('span', { class: 'swatch', 'aria-hidden': 'true' }, band.letter);
    s.style.background = band.look.fill;
    s.style.color = band.look.over;
    return s;
  };
  const group = (name, ...entries) => make('div', { class: 'group' }, make('b', {}, name), ...entries);
  const scale = bands => bands.map((b, k) => ({ ...b, look: shadeOf(bands, k) })).sort((a, b) => (a.letter < b.letter ? 1 : -1))
    .map(b => make('span', { class: 'entry' }, swatch(b), b.name));
  const sign = (text, draw) => {
    const c = make('canvas', { width: 40, height: 36, 'aria-hidden': 'true' }), p = c.getContext('2d');
    c.style.width = '20px';
    c.style.height = '18px';
    const put = () => {
      p.scale(2, 2);
      p.lineWidth = 1;
      p.strokeStyle = C['mark-line'];
      p.fillStyle = bandLook[Math.floor(D.loss.length / 2)].fill;
      draw(p);
    };
    put();
    whenEmptied(c, put);
    return make('span', { class: 'entry' }, c, text);
  };
  const shape = trace => p => { p.beginPath(); trace(p); p.closePath(); p.fill(); p.stroke(); };
  bandLook = D.loss.map((_, b) => shadeOf(D.loss, b));
  const has = side => P.side.of.some(k => P.side.words[k] === side);
  const signs = [];
  if (has('soil')) signs.push(sign(W.signSoil, shape(p => p.rect(4, 4, 12, 10))));
  if (has('product')) signs.push(sign(W.signProduct, shape(p => p.ellipse(10, 9, 7, 5, 0, 0, 7))));
  if (has('unknown')) signs.push(sign(W.signUnknown, shape(p => { p.moveTo(3, 9); p.lineTo(10, 2); p.lineTo(17, 9); p.lineTo(10, 16); })));
  if (layers.proveUps.on && layers.proveUps.n) {
    signs.push(sign(W.signProved, p => {
      shape(q => q.rect(4, 4, 12, 10))(p);
      p.fillStyle = bandLook[Math.floor(D.loss.length / 2)].over;
      p.fillRect(8.5, 7.5, 3, 3);
    }));
  }
  if (layers.verdicts.on && layers.verdicts.n) signs.push(sign(W.signUrgent, p => { p.beginPath(); traceTriangle(p, 10, 10); fillTriangles(p); }));
  if (P.faint.length) signs.push(sign(W.signFaint, p => { p.fillStyle = C.plate; p.strokeStyle = C.mist; shape(q => q.rect(4, 4, 12, 10))(p); }));
  const repair = (fill, dash, text) => sign(text, p => { p.fillStyle = p.strokeStyle = C.pick; p.globalAlpha = fill; p.fillRect(3, 3, 14, 12); p.globalAlpha = 1; p.setLineDash(dash); p.strokeRect(3, 3, 14, 12); });
  if (layers.repairs.on && D.repairs.some(r => r.proposed)) signs.push(repair(0.25, [3, 2], W.signProposed));
  if (layers.repairs.on && D.repairs.some(r => !r.done && !r.proposed)) signs.push(repair(0.25, [], W.signRepair));
  if (layers.repairs.on && D.repairs.some(r => r.done)) signs.push(repair(0.55, [], W.signDone));
  if (layers.patches.on && D.patches.length) signs.push(sign(W.signPatch, p => { p.setLineDash([4, 1.5, 1, 1.5]); p.strokeStyle = C.steel; p.strokeRect(3, 4, 14, 10); }));
  if (layers.fixtures.on && D.fixtures.length) signs.push(sign(W.signFixture, p => { p.fillStyle = C.haze; shape(q => q.ellipse(10, 9, 6, 6, 0, 0, 7))(p); p.beginPath(); p.moveTo(4, 9); p.lineTo(16, 9); p.moveTo(10, 3); p.lineTo(10, 15); p.stroke(); }));
  if (layers.visual.on && layers.visual.n) signs.push(sign(W.signVisual, p => noteSign(p, { weld: false, kind: 'note' }, 10, 9)));
  if (layers.welds.on && layers.welds.n) signs.push(sign(W.signWeld, p => noteSign(p, { weld: true, kind: 'accepted' }, 10, 9)));
  if (layers.readings.on && layers.readings.n) signs.push(sign(W.signReading, shape(p => { p.moveTo(7, 11); p.lineTo(13, 11); p.lineTo(10, 5.5); })));
  if (layers.photos.on && layers.photos.n) signs.push(sign(W.signPhoto, p => photoSign(p, 10, 10, '')));
  if (layers.seams.on && layers.seams.n) {
    signs.push(sign(W.signLap, p => { p.strokeStyle = C.steel; p.lineWidth = 2; p.setLineDash([5, 3]); p.beginPath(); p.moveTo(0, 9); p.lineTo(20, 9); p.stroke(); }));
    if (D.seams.some(w => w.kind !== 'lap')) signs.push(sign(W.signButt, p => { p.strokeStyle = C.steel; p.lineWidth = 2; p.beginPath(); p.moveTo(0, 9); p.lineTo(20, 9); p.stroke(); }));
  }
  if (layers.unexamined.on && layers.unexamined.n) signs.push(sign(W.signUnexamined, p => { p.strokeStyle = C.accent; p.beginPath(); for (const x of [0, 5, 10]) { p.moveTo(3 + x, 14); p.lineTo(7 + x, 4); } p.rect(3, 4, 14, 10); p.stroke(); }));
  if (then.known && layers.previous.on) signs.push(sign(say(W.signThen, { date: D.previous.end }), p => { p.strokeStyle = C.past; p.lineWidth = 1.6; p.setLineDash([3, 2]); p.strokeRect(4, 4, 12, 10); }));
  if (then.known && (layers.previous.on || beside)) for (const [name, letter] of Object.entries(thenClass)) signs.push(sign(name, p => changeSign(p, letter, 10, 9)));
  const s = shades[shade];
  const parts = [group(W.legendLoss, ...scale(D.loss))];
  if (s.bands) parts.push(group(`${W.legendShade}: ${s.name}`, ...scale(s.bands)));
  if (s.tracks && D.tracks.length) signs.push(sign(W.signTrack, p => { for (const [y, b] of [[3, 0], [7, 1], [11, 2]]) { p.fillStyle = bandLook[Math.min(b, bandLook.length - 1)].fill; p.fillRect(2, y, 16, 4); } p.lineWidth = 0.8; p.strokeRect(2, 3, 16, 12); }));
  el('legend').replaceChildren(...parts);
  el('signs').lastElementChild.replaceChildren(...signs);
}
