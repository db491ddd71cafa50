// Keeps what is entered while the connection is cut and sends it later, once;
// shows what another tablet entered; opens the number pad. Every page works
// without it.
'use strict';
(() => {
  const store = 'slipcase.waiting';
  const live = document.getElementById('live');
  const read = () => { try { return JSON.parse(localStorage.getItem(store)) || []; } catch { return []; } };
  const save = (list) => { try { localStorage.setItem(store, JSON.stringify(list)); return true; } catch { return false; } };
  const newKey = () => [...crypto.getRandomValues(new Uint8Array(12))].map((b) => b.toString(16).padStart(2, '0')).join('');
  const put = (node, text) => { if (node.textContent !== text) node.textContent = text; };
  let refused = '';
  let dirty = false;
  let sending = false;
  let turns = 0; // counts pages put in place and entries begun: what was asked for before is too late then
  let newest = 0; // entry of this case that this tablet has heard of
  let stale = false; // this page lacks what was sent from another
  let told = ''; // what the line at the head says now

  // What the line at the head says: entries that wait, what was refused, news.
  // It is left alone while it says the same, so that nothing is read out twice
  // and no button vanishes under a finger.
  function tell(news) {
    const waiting = read().length;
    const lines = [];
    if (waiting && !sending) lines.push(['Not connected. ' + waiting + (waiting === 1 ? ' entry is' : ' entries are') + ' kept on this tablet, and sent as soon as the bench answers.', 'Send now', send]);
    if (refused) lines.push([refused, 'Seen', () => { refused = ''; tell(); }]);
    if (news) lines.push(['Another bench has entered something.', 'Show it', () => { dirty = false; show(location.href, false); }]);
    const now = lines.map((l) => l[0]).join('\n');
    if (now === told) return;
    told = now;
    live.replaceChildren();
    for (const [text, label, act] of lines) {
      const p = document.createElement('p'); put(p, text);
      const b = document.createElement('button'); b.className = 'quiet'; b.type = 'button'; put(b, label); b.onclick = act;
      live.append(p, b);
    }
  }

  // Puts the page of an answer in the place of this one.
  function turn(html, url, push) {
    turns++;
    const doc = new DOMParser().parseFromString(html, 'text/html');
    const main = doc.querySelector('main');
    if (!main) { location.href = url; return; }
    document.title = doc.title;
    document.querySelector('header').replaceWith(doc.querySelector('header'));
    document.querySelector('main').replaceWith(main);
    for (const k of ['case', 'last']) { if (doc.body.dataset[k] === undefined) delete document.body.dataset[k]; else document.body.dataset[k] = doc.body.dataset[k]; }
    if (push) history.pushState(null, '', url);
    dirty = false;
    own(); tell(); listen();
  }

  // A shop reads its gauges in units of its own: what was chosen last on this
  // tablet stands there the next time, wherever it is among the choices.
  const units = 'slipcase.units';
  const choices = (select) => [...select.options].map((o) => o.value).sort().join(' ');
  const chosen = () => { try { return JSON.parse(localStorage.getItem(units)) || {}; } catch { return {}; } };
  function own() {
    const all = chosen();
    for (const s of document.querySelectorAll('select[name^="u."]')) {
      if (s.closest('.reading')?.querySelector('input')?.value) continue; // it was typed in the unit that stands there
      const u = all[choices(s)]; if (u && [...s.options].some((o) => o.value === u)) s.value = u;
    }
  }

  async function show(url, push) {
    const mine = ++turns;
    try {
      const r = await fetch(url, { credentials: 'same-origin' });
      const html = await r.text();
      if (!r.ok || mine !== turns) return;
      if (dirty && !push) tell(true); else turn(html, r.url, push);
    } catch { tell(); }
  }

  // Shows what another tablet has entered, or says that there is something
  // while this one is being typed on.
  function catchUp() {
    if (sending || !(stale || newest > Number(document.body.dataset.last))) return;
    stale = false;
    if (dirty) tell(true); else show(location.href.replace(/[?&]from=\d+&to=\d+/, ''), false);
  }

  async function post(item) {
    const r = await fetch(item.url, { method: 'POST', credentials: 'same-origin', headers: { 'Content-Type': 'application/x-www-form-urlencoded' }, body: item.body });
    return { r, html: await r.text() };
  }

  const reason = (html) => [...new DOMParser().parseFromString(html, 'text/html').querySelectorAll('.fault')].map((x) => x.textContent).join(' ') || 'It was refused.';

  // Sends what waits, oldest first. What the bench refuses is told, not lost in
  // silence; while it cannot answer, or does not let this tablet in, it waits.
  async function send() {
    if (sending || !read().length) return;
    sending = true;
    try {
      while (read().length) {
        const item = read()[0];
        const { r, html } = await post(item);
        // What the bench fails on does not keep the others back.
        if (r.status === 500) save([...read().filter((x) => x.key !== item.key), item]);
        if (r.status === 403 || r.status === 429 || r.status >= 500) break;
        if (!r.ok) refused = 'Not entered: ' + reason(html) + ' What was typed: ' + item.words;
        save(read().filter((x) => x.key !== item.key));
        // Whoever has gone to another page meanwhile stays there.
        if (!r.ok || dirty) continue;
        if (item.page === location.pathname) turn(html, r.url, true); else stale = true;
      }
    } catch { /* not connected */ } finally { sending = false; tell(); catchUp(); }
  }

  document.addEventListener('submit', async (e) => {
    const form = e.target;
    const to = new URL(form.action).pathname;
    if (form.method !== 'post' || !(to.startsWith('/case/') || to === '/open')) return;
    e.preventDefault();
    if (form.enctype === 'multipart/form-data') { picture(form); return; }
    if (form.dataset.sent) return;
    const data = new FormData(form, e.submitter);
    const key = newKey();
    data.set('key', key);
    const words = [...data].filter(([k, v]) => v && !['key', 'then', 'by', 'check', 'asked', 'step', 'entry'].includes(k)).map(([k, v]) => k.replace(/^[a-z]\./, '') + ' ' + v).join(', ');
    const item = { url: form.action, body: new URLSearchParams(data).toString(), key, words, page: location.pathname };
    form.dataset.sent = '1';
    // It is kept before it is sent: a tablet that goes dark in between has it.
    if (!save([...read(), item])) { form.dataset.sent = ''; refused = 'This tablet keeps nothing: send it again when the bench answers.'; tell(); return; }
    if (read().length > 1) { dirty = false; tell(); send(); return; }
    sending = true;
    turns++;
    try {
      const { r, html } = await post(item);
      if (r.status === 403 || r.status === 429 || r.status >= 500) { refused = reason(html); return; }
      save(read().filter((x) => x.key !== key));
      if (r.ok) { turn(html, r.url, true); document.getElementById('main').focus(); window.scrollTo(0, 0); } else { refused = reason(html); form.dataset.sent = ''; }
    } catch { dirty = false; } finally { sending = false; tell(); catchUp(); }
  });

  // A picture is too large to be kept in the tablet's store: it stays in its
  // form until the bench has it. The form's own key makes it come once.
  async function picture(form) {
    if (form.dataset.sent) return;
    form.dataset.sent = '1';
    turns++;
    try {
      const r = await fetch(form.action, { method: 'POST', credentials: 'same-origin', body: new FormData(form) });
      const html = await r.text();
      if (r.ok) { refused = ''; turn(html, r.url, true); document.getElementById('main').focus(); return; }
      refused = reason(html);
    } catch { refused = 'Not connected. The photo is still here: send it again when the bench answers.'; }
    form.dataset.sent = '';
    tell();
  }

  document.addEventListener('input', (e) => { if (e.target.closest('main form[method=post]')) dirty = true; });
  document.addEventListener('change', (e) => {
    if (!e.target.matches('select[name^="u."]')) return;
    try { localStorage.setItem(units, JSON.stringify({ ...chosen(), [choices(e.target)]: e.target.value })); } catch { /* chosen anew each time */ }
    own();
  });
  document.addEventListener('change', (e) => { const f = e.target.closest('form[data-live]'); if (f) f.requestSubmit(); });
  window.addEventListener('popstate', () => show(location.href, false));
  window.addEventListener('online', send);
  setInterval(send, 2000);

  // News of this case.
  let source = null; let of = '';
  function listen() {
    const id = document.body.dataset.case || '';
    if (id === of) return;
    if (source) source.close();
    of = id; source = null; newest = 0;
    if (!id) return;
    source = new EventSource('/case/' + encodeURIComponent(id) + '/live');
    source.onmessage = (e) => { newest = Number(e.data); catchUp(); };
  }

  // The pad for numbers: it stands below the field that is being filled in.
  document.addEventListener('focusin', (e) => {
    const field = e.target;
    if (!field.matches || !field.matches('input[data-pad]') || (field.nextPad && field.nextPad.isConnected)) return;
    document.querySelectorAll('.pad').forEach((p) => p.remove());
    const pad = document.createElement('div');
    pad.className = 'pad'; pad.setAttribute('role', 'group'); pad.setAttribute('aria-label', 'number pad');
    for (const k of ['1', '2', '3', '4', '5', '6', '7', '8', '9', '.', '0', '⌫']) {
      const b = document.createElement('button');
      b.type = 'button'; b.className = 'quiet'; put(b, k); b.tabIndex = -1;
      if (k === '⌫') b.setAttribute('aria-label', 'delete the last digit');
      b.onclick = () => { field.value = k === '⌫' ? field.value.slice(0, -1) : field.value + k; field.dispatchEvent(new Event('input', { bubbles: true })); };
      pad.append(b);
    }
    (field.closest('.reading') || field.parentElement).append(pad);
    field.nextPad = pad;
  });

  own(); tell(); listen(); send();
})();
