// A lesson: screens, and guesses before reveals. Without this all is open.
(() => {
  const screens = all('.scr');
  all('.hold').forEach(h => h.classList.add('shut'));
  all('.ask').forEach(a => {
    const b = a.querySelector('.rev');
    b.hidden = false;
    b.onclick = () => {
      const r = a.querySelector('input:checked'), n = a.querySelector('input[type=number]'), g = r ? r.value : n ? n.value : '';
      const ok = n ? Math.abs(n.value - a.dataset.number) <= +a.dataset.tolerance + 1e-9 : g == a.dataset.answer;
      const guess = n && g ? g.replace('-', '\u2212') + (a.querySelector('.gu').textContent || '') : g;
      a.querySelector('.you').textContent = g ? (ok ? 'So you guessed. ' : `You guessed ${guess}. `) : '';
      a.classList.add('open'); b.hidden = true;
      all(`[data-for=${a.id}]`).forEach(h => h.classList.remove('shut'));
      a.querySelector('.after').focus({preventScroll: true});
    };
  });
  const index = () => { let b = 0; screens.forEach((s, i) => { if (s.getBoundingClientRect().top < innerHeight / 2) b = i; }); return b; };
  function turnTo(i) {
    const s = screens[Math.max(0, Math.min(screens.length - 1, i))], h = s.querySelector('h1,h2');
    s.scrollIntoView({behavior: 'instant'}); h.tabIndex = -1; h.focus({preventScroll: true});
    FRAGMENT.screen = s.id; keepState();
  }
  all('.step a').forEach(a => a.onclick = e => { e.preventDefault(); turnTo(screens.findIndex(s => '#' + s.id == a.getAttribute('href'))); });
  addEventListener('keydown', e => {
    // sliders, boxes and menus keep all their keys; a chosen answer does not hold up the remote
    if (!plain(e) || /^(INPUT|SELECT|TEXTAREA)$/.test(e.target.tagName) && e.target.type != 'radio') return;
    const s = screens[index()], box = s.getBoundingClientRect(), open = s.querySelector('.ask:not(.open)');
    if (e.key == 'PageDown') {
      // a screen taller than the window is read to its end before it is turned
      if (box.bottom > innerHeight + 8) scrollBy({top: Math.min(innerHeight * .85, box.bottom - innerHeight), behavior: 'instant'});
      else if (index() == screens.length - 1) return;
      else turnTo(index() + 1);
    }
    else if (e.key == 'PageUp') {
      if (box.top < -8) scrollBy({top: -Math.min(innerHeight * .85, -box.top), behavior: 'instant'});
      else turnTo(index() - 1);
    }
    else if (e.key.toLowerCase() == 'r' && open) open.querySelector('.rev').click();
    else if (/^[1-4]$/.test(e.key) && open) { const r = all('input[type=radio]', open)[e.key - 1]; if (!r) return; r.checked = true; r.focus({preventScroll: true}); }
    else return;
    e.preventDefault();
  });
  if (screens.some(s => s.id == FRAGMENT.screen)) $(FRAGMENT.screen).scrollIntoView({behavior: 'instant'});
  addEventListener('scrollend', () => { const id = screens[index()].id; if (id != FRAGMENT.screen) { FRAGMENT.screen = id; keepState(); } });
})();
