// Figures with a second drawing: the picture stays with the water or with the boat.
all('.turn').forEach(bar => {
  const part = bar.parentNode, views = all('.view', part), buttons = all('button', bar);
  const stay = what => {
    views.forEach(v => v.classList.toggle('on', v.dataset.stays == what));
    buttons.forEach(b => b.setAttribute('aria-pressed', b.dataset.stays == what));
  };
  buttons.forEach(b => b.onclick = () => stay(b.dataset.stays));
  addEventListener('keydown', e => {
    const at = part.getBoundingClientRect(), what = {w: 'water', b: 'boat'}[e.key.toLowerCase()];
    if (!what || !plain(e) || /^(INPUT|SELECT|TEXTAREA)$/.test(e.target.tagName) || at.bottom < 60 || at.top > innerHeight - 60) return;
    stay(what); e.preventDefault();
  });
  bar.hidden = false;
});
