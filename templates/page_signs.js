// What lies on the floor besides its places: seams, repairs, patches,
// fixtures, readings, observations, photos; and what nobody examined.

function paintSeams() {
  toPlan();
  for (const kind of ['lap', 'butt', 'ring']) {
    ctx.beginPath();
    for (const s of D.seams) {
      if (s.kind !== kind) continue;
      if (s.r) { ctx.moveTo(s.r, 0); ctx.arc(0, 0, s.r, 0, 2 * Math.PI); } else { ctx.moveTo(s.line[0], s.line[1]); ctx.lineTo(s.line[2], s.line[3]); }
    }
    ctx.setLineDash(kind === 'lap' ? [5 / view.k, 3 / view.k] : []);
    ctx.lineWidth = 2 / view.k;
    ctx.strokeStyle = C.steel;
    ctx.stroke();
  }
  ctx.setLineDash([]);
}

// seamAt is the seam within some pixels of a place, null without one.
function seamAt(x, y, reach) {
  const r = reach / view.k;
  return D.seams.find(s => {
    if (s.r) return Math.abs(Math.hypot(x, y) - s.r) < r;
    const [x1, y1, x2, y2] = s.line, dx = x2 - x1, dy = y2 - y1;
    const t = Math.min(1, Math.max(0, ((x - x1) * dx + (y - y1) * dy) / (dx * dx + dy * dy || 1)));
    return Math.hypot(x - x1 - t * dx, y - y1 - t * dy) < r;
  }) ?? null;
}

// paintUnexamined hatches the plates that were not examined whole; which part
// of a plate that is, no workbook says.
function paintUnexamined() {
  const tile = document.createElement('canvas'), t = tile.getContext('2d');
  tile.width = tile.height = 8;
  t.strokeStyle = C.accent;
  t.beginPath();
  for (const d of [-8, 0, 8]) { t.moveTo(d, 8); t.lineTo(d + 8, 0); }
  t.stroke();
  const pattern = ctx.createPattern(tile, 'repeat');
  toPlan();
  pattern.setTransform(new DOMMatrix().scale(1 / view.k));
  ctx.fillStyle = pattern;
  ctx.lineWidth = 1.6 / view.k;
  ctx.strokeStyle = C.accent;
  D.plates.forEach((p, i) => {
    if (p.examined === 100 || !outline[i]) return;
    ctx.globalAlpha = p.examined === null || p.examined === 0 ? 0.9 : 0.4;
    ctx.fill(outline[i], 'evenodd');
    ctx.globalAlpha = 1;
    ctx.stroke(outline[i]);
  });
  toScreen();
  for (const p of D.plates) {
    if (p.examined === 100 || !p.placed) continue;
    const w = (p.box[2] - p.box[0]) * view.k, h = (p.box[3] - p.box[1]) * view.k, x = sx(p.at[0]), y = sy(-p.at[1]) + 13;
    if (w < 44 || h < 34 || !labels.room(x - 18, y, 36, 11)) continue;
    halo(p.examined === null ? '?' : full(millionth(100 - p.examined), 'share'), x, y, 'center', C.accent, true);
  }
}

function paintPatches() {
  toPlan();
  ctx.lineWidth = 1.2 / view.k;
  ctx.setLineDash([8, 3, 2, 3].map(d => d / view.k));
  ctx.strokeStyle = C.steel;
  for (const o of D.patches) ctx.stroke(o.path ??= new Path2D(o.d));
  ctx.setLineDash([]);
}

const dashOf = r => (r.proposed ? [5, 3] : []);
function paintRepairs() {
  for (const r of D.repairs) {
    const path = r.d ? (r.path ??= new Path2D(r.d)) : r.plate >= 0 ? outline[r.plate] : null;
    if (!path) continue;
    toPlan();
    ctx.globalAlpha = r.done ? 0.55 : 0.25;
    ctx.fillStyle = C.pick;
    ctx.fill(path, 'evenodd');
    ctx.globalAlpha = 1;
    ctx.lineWidth = 1.6 / view.k;
    ctx.strokeStyle = C.pick;
    ctx.setLineDash(dashOf(r).map(d => d / view.k));
    ctx.stroke(path);
    ctx.setLineDash([]);
    if (r.at[0] === null) continue;
    const x = sx(r.at[0]), y = sy(-r.at[1]), size = r.d ? Math.max(r.length, r.width) * view.k : 0;
    toScreen();
    if (r.d && size < 12) { // never too small to see
      ctx.lineWidth = 1.6;
      ctx.setLineDash(dashOf(r).map(d => d * 0.6));
      ctx.strokeRect(x - 7, y - 7, 14, 14);
      ctx.setLineDash([]);
    }
    if (layers.numbers.on && inSight(x, y, 20)) findRepairLabel(clip(r.label), x, r.d ? y : y - 12, r.d ? Math.max(8, size / 2 + 2) : 0);
  }
}

// findRepairLabel takes the room for a repair's number on the first side that
// is free and in sight; it is written when the marks are painted, over them.
let repairLabels = [];
function findRepairLabel(text, x, y, off) {
  const w = 7 * text.length;
  for (const [left, yy] of off ? [[x - off - w, y], [x + off, y], [x - w / 2, y - off - 6], [x - w / 2, y + off + 6]] : [[x - w / 2, y]]) {
    if (left < 0 || left + w > view.width || !labels.room(left, yy, w, 11)) continue;
    repairLabels.push([text, left, yy]);
    return;
  }
}
function paintRepairLabels() {
  toScreen();
  for (const [text, x, y] of repairLabels) halo(text, x, y, 'left', C.pick, true);
}

function paintFixtures() {
  toScreen();
  for (const f of D.fixtures) {
    const x = sx(f.at[0]), y = sy(-f.at[1]), w = Math.max(8, f.l * view.k), h = Math.max(8, f.w * view.k);
    ctx.beginPath();
    if (f.round) ctx.ellipse(x, y, w / 2, h / 2, 0, 0, 2 * Math.PI); else ctx.rect(x - w / 2, y - h / 2, w, h);
    ctx.fillStyle = C.haze;
    ctx.fill();
    ctx.moveTo(x - w / 2, y);
    ctx.lineTo(x + w / 2, y);
    ctx.moveTo(x, y - h / 2);
    ctx.lineTo(x, y + h / 2);
    ctx.lineWidth = 1;
    ctx.strokeStyle = C.ink;
    ctx.stroke();
    if (layers.numbers.on && f.name && labels.room(x + w / 2 + 3, y, 6.5 * clip(f.name).length, 11)) halo(clip(f.name), x + w / 2 + 3, y, 'left', C.ink, false);
  }
}

function paintReadings() {
  toScreen();
  ctx.lineWidth = 1;
  const room = view.k > 0.06;
  for (const r of D.readings) {
    const x = sx(r.at[0]), y = sy(-r.at[1]);
    if (!inSight(x, y, 40)) continue;
    ctx.beginPath();
    ctx.moveTo(x - 3, y + 2);
    ctx.lineTo(x + 3, y + 2);
    ctx.lineTo(x, y - 3.5);
    ctx.closePath();
    ctx.fillStyle = C.plate;
    ctx.fill();
    ctx.strokeStyle = C.ink;
    ctx.stroke();
    if (room) halo(bare(r.t, 'thickness'), x + 6, y, 'left', C.steel, false);
  }
}

const noteShown = n => n.placed && (n.weld ? layers.welds.on : layers.visual.on);
function noteSign(c, n, x, y) {
  const heavy = n.kind === 'repair' || n.kind === 'rejected';
  c.beginPath();
  if (n.weld) c.rect(x - 5, y - 5, 10, 10); else c.arc(x, y, 5.5, 0, 2 * Math.PI);
  c.fillStyle = heavy ? C.accent : C.plate;
  c.fill();
  c.lineWidth = 1.2;
  c.strokeStyle = heavy ? C.accent : C.ink;
  c.stroke();
  c.fillStyle = heavy ? C.plate : C.ink;
  c.font = '700 8px system-ui, sans-serif';
  c.textAlign = 'center';
  c.textBaseline = 'middle';
  c.fillText((n.kind[0] ?? '?').toUpperCase(), x, y + 0.5);
}
function paintNotes() {
  toScreen();
  for (const n of D.notes) {
    if (!noteShown(n)) continue;
    const x = sx(n.at[0]), y = sy(-n.at[1]);
    if (!inSight(x, y, 20)) continue;
    noteSign(ctx, n, x, y);
    if (layers.numbers.on && labels.room(x + 8, y, 6.5 * clip(n.id).length, 11)) halo(clip(n.id), x + 8, y, 'left', C.ink, false);
  }
}

function photoSign(c, x, y, text) {
  c.beginPath();
  c.rect(x - 7, y - 5, 14, 10);
  c.rect(x - 3, y - 7, 6, 2);
  c.fillStyle = C.ink;
  c.fill();
  c.fillStyle = C.plate;
  c.font = '700 8px system-ui, sans-serif';
  c.textAlign = 'center';
  c.textBaseline = 'middle';
  c.fillText(text, x, y + 0.5);
}
function paintPhotos() {
  toScreen();
  for (const p of D.photos) if (p.at) photoSign(ctx, sx(p.at[0]), sy(-p.at[1]), String(p.number));
}

// paintCompass draws north and a scale bar of a round length.
function paintCompass() {
  toScreen();
  const k = D.kinds.height, target = 110 / view.k / k.factor, decade = 10 ** Math.floor(Math.log10(target));
  const n = [5, 2, 1].find(s => s * decade <= target) * decade, w = n * k.factor * view.k, y = view.height - 14;
  ctx.beginPath();
  for (const x of [12, 12 + w]) { ctx.moveTo(x, y - 5); ctx.lineTo(x, y + 5); }
  ctx.moveTo(12, y);
  ctx.lineTo(12 + w, y);
  ctx.lineWidth = 1.5;
  ctx.strokeStyle = C.ink;
  ctx.stroke();
  halo(`${Number(n.toPrecision(3))} ${k.unit}, ${W.viewFrom}`, 18 + w, y, 'left', C.ink, false);
  if (!D.plan.north) return;
  const x0 = view.width - 26, y0 = 28, a = radians(-D.plan.up), dx = Math.sin(a), dy = -Math.cos(a);
  ctx.beginPath();
  ctx.moveTo(x0 + 15 * dx, y0 + 15 * dy);
  ctx.lineTo(x0 - 11 * dx + 6 * dy, y0 - 11 * dy - 6 * dx);
  ctx.lineTo(x0 - 6 * dx, y0 - 6 * dy);
  ctx.lineTo(x0 - 11 * dx - 6 * dy, y0 - 11 * dy + 6 * dx);
  ctx.closePath();
  ctx.fillStyle = C.ink;
  ctx.fill();
  halo(W.north, x0 + 22 * dx, y0 + 22 * dy, 'center', C.ink, true);
}
