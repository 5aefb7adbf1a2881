// Runs before all else and on its own, in words that old browsers know: when
// the page's script cannot be read or does not get as far as a page that can
// be used, the drawing and the table that need no script take its place, and a
// file whose end is missing is told.
var ready = 0; // when the page could be used, ms after it was asked for
var begun = false; // the script was read
var failed = false;

function fail(why) {
  if (ready || failed) return;
  failed = true;
  var show = function () {
    var still = document.querySelector('noscript'), box = document.createElement('div'), floor = document.getElementById('floor');
    if (floor) floor.hidden = true;
    document.querySelector('header').appendChild(document.getElementById('about')); // a narrow page has it among the figures
    if (!still) {
      document.getElementById('cut').hidden = false;
      return;
    }
    box.innerHTML = still.textContent; // the page's own markup, workbook texts escaped in it
    if (why) box.querySelector('.plainly').appendChild(document.createTextNode(' (' + why + ')'));
    still.parentNode.replaceChild(box, still);
  };
  if (document.readyState === 'loading') document.addEventListener('DOMContentLoaded', show); else show();
}
window.addEventListener('error', function (e) {
  if (!e.error && /^ResizeObserver loop/.test(e.message)) return; // put off to the next frame, which harms nothing
  if (e.error || e.message) fail(e.message);
});
window.addEventListener('unhandledrejection', function (e) { fail(e.reason && e.reason.message); });
document.addEventListener('DOMContentLoaded', function () { if (!begun) fail(''); });
