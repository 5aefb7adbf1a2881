// The table: sorted by any column, and only the rows in sight are in the
// document, so that thousands stay quick.

const collate = new Intl.Collator('en', { numeric: true }).compare;
const words = (head, list) => ({ head, text: i => word(list, i) || '–', order: (a, b) => list.of[a] - list.of[b] });
const value = (head, column, kind) => ({
  head, unit: D.kinds[kind].unit, num: true, text: i => bare(column[i], kind), blank: i => column[i] === null, order: (a, b) => column[a] - column[b],
});
const columns = [
  { head: W.plate, text: plateOf, order: (a, b) => P.plate[a] - P.plate[b] || collate(plateOf(a), plateOf(b)), user: true },
  { head: W.number, text: i => P.id[i], order: (a, b) => collate(P.id[a], P.id[b]), user: true },
  value(W.loss, P.loss, 'share'),
  value(W.remaining, P.remaining, 'thickness'),
  { ...value(W.margin, P.margin, 'thickness'), text: i => marginOf(P.margin[i]) },
  { ...words(W.verdict, P.verdict), mark: 'v' },
  words(W.side, P.side),
  words(W.zone, P.zone),
  words(W.method, P.method),
  words(W.basis, P.basis),
  value(W.required, P.required, 'thickness'),
  value(W.x, P.x, 'position'),
  value(W.y, P.y, 'position'),
  { head: W.repair, text: i => word(P.repair, i), order: (a, b) => collate(word(P.repair, a), word(P.repair, b)), user: true },
];
if (then.known) {
  columns.splice(6, 0, words(W.since, P.class), { head: W.growth, unit: D.kinds.rate.unit, num: true, text: i => bare(P.change[i]?.growth, 'rate'), blank: i => (P.change[i]?.growth ?? null) === null, order: (a, b) => P.change[a].growth - P.change[b].growth });
}
let sorted = { column: 4, down: false };
let order = new Int32Array(0); // the shown places in the table's order
let active = -1; // the place the keyboard stands on
let anchor = -1; // where a range began

const scroller = el('scroll'), body = el('table').tBodies[0];
let rowHeight = 26, filled = 0; // filled: the height that rows were made for

function buildTable() {
  const tr = make('tr', { role: 'row' });
  columns.forEach((c, k) => {
    const arrow = make('span', { 'aria-hidden': 'true' });
    const b = make('button', { type: 'button' }, c.head, arrow, c.unit ? make('small', {}, c.unit) : '');
    b.addEventListener('click', () => {
      sorted = { column: k, down: sorted.column === k ? !sorted.down : false };
      sortTable();
    });
    c.th = make('th', { scope: 'col', role: 'columnheader', class: c.num ? 'num' : false }, b);
    c.arrow = arrow;
    tr.append(c.th);
  });
  el('table').tHead.append(tr);
  el('table').setAttribute('aria-colcount', columns.length);
  scroller.addEventListener('scroll', fillTable, { passive: true });
  new ResizeObserver(() => { if (scroller.clientHeight > filled) fillTable(); }).observe(scroller);
  body.addEventListener('click', e => {
    const tr = e.target.closest('tr[data-i]');
    if (!tr) return;
    const i = Number(tr.dataset.i);
    active = i;
    if (e.shiftKey && anchor >= 0) selectRange(anchor, i);
    else if (e.ctrlKey || e.metaKey) toggle(i);
    else choosePlace(i);
    if (!e.shiftKey) anchor = i;
  });
  body.addEventListener('dblclick', e => {
    const tr = e.target.closest('tr[data-i]');
    if (tr) zoomToPlace(Number(tr.dataset.i));
  });
  el('table').addEventListener('keydown', tableKey);
}

function tableKey(e) {
  if (e.target !== el('table') || !order.length) return;
  const at = order.indexOf(active), page = Math.max(1, Math.floor(scroller.clientHeight / rowHeight) - 2);
  const to = {
    ArrowDown: at + 1, ArrowUp: at < 0 ? 0 : at - 1, PageDown: at + page, PageUp: at - page, Home: 0, End: order.length - 1,
  }[e.key];
  if (to !== undefined) {
    e.preventDefault();
    active = order[Math.min(order.length - 1, Math.max(0, to))];
    if (e.shiftKey && anchor >= 0) selectRange(anchor, active);
    bringRow(active);
    announce(summary(active));
    fillTable();
  } else if ((e.key === 'Enter' || e.key === ' ') && active >= 0) {
    e.preventDefault();
    anchor = active;
    if (e.ctrlKey || e.metaKey) toggle(active); else choosePlace(active);
  } else if (e.key === 'Escape') choosePlate(-1);
}

// selectRange selects the rows between two, as they stand.
function selectRange(from, to) {
  const a = order.indexOf(from), b = order.indexOf(to);
  if (a < 0 || b < 0) return;
  chooseSeveral(Array.from(order.subarray(Math.min(a, b), Math.max(a, b) + 1)));
}

function sortTable() {
  const c = columns[sorted.column], way = sorted.down ? -1 : 1;
  const known = [], blank = [];
  for (let i = 0; i < N; i++) if (shown[i]) (c.blank?.(i) ? blank : known).push(i);
  known.sort((a, b) => way * c.order(a, b) || a - b);
  order = Int32Array.from(known.concat(blank)); // unknown values last, either way
  columns.forEach((k, n) => {
    const on = n === sorted.column;
    if (on) k.th.setAttribute('aria-sort', sorted.down ? 'descending' : 'ascending'); else k.th.removeAttribute('aria-sort');
    k.arrow.textContent = on ? (sorted.down ? ' ▼' : ' ▲') : '';
  });
  el('table').setAttribute('aria-rowcount', order.length + 1);
  el('rows').textContent = say(W.tableRows, { n: order.length }) + ', ' + say(W.sorted, { column: c.head, way: sorted.down ? W.descending : W.ascending });
  if (!shown[active]) active = -1;
  fillTable();
}

function fillTable() {
  filled = scroller.clientHeight;
  const first = Math.max(0, Math.floor(scroller.scrollTop / rowHeight) - 8);
  const last = Math.min(order.length, Math.ceil((scroller.scrollTop + scroller.clientHeight) / rowHeight) + 8);
  const rows = [space(first)];
  for (let n = first; n < last; n++) {
    const i = order[n];
    const tr = make('tr', {
      role: 'row', id: 'row-' + i, 'data-i': i, 'aria-rowindex': n + 2, 'aria-selected': String(selection.has(i)),
      class: (urgent[i] ? 'urgent ' : '') + (i === active ? 'active' : ''),
    });
    for (const c of columns) {
      const text = c.text(i);
      tr.append(make('td', { role: 'gridcell', class: c.mark ?? (c.num ? 'num' : false), title: text.length > 24 && text }, c.user ? typed(text) : text));
    }
    rows.push(tr);
  }
  if (!order.length) rows.push(make('tr', { role: 'row' }, make('td', { role: 'gridcell', class: 'none', colspan: columns.length }, N ? W.nonePass : W.noPlaces, ' ', N ? button(W.reset, showAll) : '')));
  rows.push(space(order.length - last));
  body.replaceChildren(...rows);
  const real = order.length ? rows[1].getBoundingClientRect().height : 0;
  if (real > 10 && Math.abs(real - rowHeight) > 0.5) { // fingers get higher rows
    rowHeight = real;
    fillTable();
    return;
  }
  if (active >= 0 && el('row-' + active)) el('table').setAttribute('aria-activedescendant', 'row-' + active);
  else el('table').removeAttribute('aria-activedescendant');
}

// space stands for the rows out of sight.
function space(n) {
  const td = make('td', { colspan: columns.length });
  td.style.height = Math.max(0, n) * rowHeight + 'px';
  return make('tr', { class: 'space', 'aria-hidden': 'true' }, td);
}

// bringRow scrolls a place's row into sight.
function bringRow(i) {
  const n = order.indexOf(i), head = el('table').tHead.offsetHeight;
  if (n < 0) return;
  const top = n * rowHeight, room = scroller.clientHeight - head;
  if (top < scroller.scrollTop) scroller.scrollTop = top;
  else if (top + rowHeight > scroller.scrollTop + room) scroller.scrollTop = top + rowHeight - room;
  fillTable();
}
