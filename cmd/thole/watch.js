// The window around a watched page: it takes the new page in beside the old one,
// brings it to where the reader was, and only then shows it.
const wrong = document.getElementById('wrong');
let shown = null, frame = document.querySelector('iframe');
function say(text, head) {
  wrong.hidden = !text;
  wrong.querySelector('b').textContent = head || 'The page below is the last good one.';
  wrong.querySelector('pre').textContent = text;
}
function turn(version) {
  const old = frame, was = old.contentWindow, next = document.createElement('iframe');
  next.title = old.title; next.className = 'next';
  next.src = 'page?' + version + was.location.hash;
  next.onload = () => {
    const open = [...was.document.querySelectorAll('details')].map(d => d.open);
    [...next.contentWindow.document.querySelectorAll('details')].forEach((d, i) => { if (open[i]) d.open = true; });
    next.contentWindow.scrollTo({top: was.scrollY, behavior: 'instant'});
    document.title = next.contentWindow.document.title + ' · thole watch';
    next.className = ''; old.remove();
    if (document.activeElement === document.body) next.contentWindow.focus();
  };
  frame = next;
  old.after(next);
}
const news = new EventSource('news');
news.onmessage = e => {
  const state = JSON.parse(e.data);
  say(state.wrong);
  if (state.page !== shown) { if (state.page) turn(state.page); shown = state.page; }
};
news.onerror = () => { news.close(); say('Start it again with  thole watch  to follow the study.', 'thole watch has ended; this page no longer follows.'); };
