'use strict';
(() => {
  const at = id => document.getElementById(id);
  const body = document.body;
  const history = [];
  let received = 0;
  let audio = null;
  let listed = '';

  const percent = v => v == null ? '-' : (v >= 0 ? '+' : '\u2212') + Math.abs(v).toFixed(0) + ' %';
  const grams = v => v == null ? '-' : (v >= 0 ? '+' : '\u2212') + Math.abs(v).toFixed(0) + ' g';

  /** Plays two short tones, once for each WARNING. */
  const tone = () => {
    if (!audio) return;
    for (const start of [0, .35]) {
      const o = audio.createOscillator();
      const gain = audio.createGain();
      o.frequency.value = 1760;
      gain.gain.value = .4;
      o.connect(gain).connect(audio.destination);
      o.start(audio.currentTime + start);
      o.stop(audio.currentTime + start + .25);
    }
  };

  const path = key => {
    const end = history.length ? history[history.length - 1].time_s : 0;
    let text = '';
    let pen = 'M';
    for (const h of history) {
      if (h[key] == null) {
        pen = 'M';
        continue;
      }
      const x = 300 + (h.time_s - end);
      const y = 100 - Math.max(-20, Math.min(h[key], 130)) / 150 * 100 - 13;
      text += pen + x.toFixed(1) + ' ' + y.toFixed(1);
      pen = 'L';
    }
    return text;
  };

  const stale = words => {
    body.className = 'stale';
    at('state').textContent = words;
    for (const id of ['margin', 'low', 'throttle', 'power']) at(id).textContent = '-';
    at('fill').style.width = '0';
  };

  const show = f => {
    received = Date.now();
    if (f.time_s != null) {
      // the craft's clock has started anew
      if (history.length && f.time_s < history[history.length - 1].time_s - 5) history.length = 0;
      history.push(f);
      while (history.length && history[0].time_s < f.time_s - 300) history.shift();
    }
    at('trace').setAttribute('d', path('margin_pct'));
    at('bound').setAttribute('d', path('margin_low_pct'));
    at('age').textContent = f.age_s == null ? 'none yet' : f.age_s.toFixed(1) + ' s';
    if (f.state === 'NO_DATA') {
      stale('NO DATA' + (f.age_s == null ? '' : ' for ' + f.age_s.toFixed(0) + ' s'));
      return;
    }
    body.className = f.level || '';
    const past = f.state === 'PAST_KNEE';
    at('margin').textContent = past ? 'KNEE' : percent(f.margin_pct);
    at('low').textContent = past ? '' : 'at least ' + percent(f.margin_low_pct) + ', ' + grams(f.lift_low_g) + ' of lift';
    at('state').textContent = past ? 'PAST THE KNEE: CLOSE the throttle to ' + (f.throttle_ceiling == null ? 'the ceiling' : f.throttle_ceiling.toFixed(2)) : (f.level || 'no alert') + (f.margin_pct == null ? ', ' + f.state.toLowerCase().replace('_', ' ') : '');
    at('fill').style.width = past || f.margin_low_pct == null ? '0' : Math.max(0, 100 * f.margin_low_pct / (100 + f.margin_low_pct)) + '%';
    at('throttle').textContent = (f.throttle == null ? '-' : f.throttle.toFixed(2)) + ' of ' + (f.throttle_ceiling == null ? '-' : f.throttle_ceiling.toFixed(2));
    at('power').textContent = f.available_w == null ? '-' : f.available_w.toPrecision(3) + '\u00a0W, demand\u00a0' + f.demand_w.toPrecision(3) + '\u00a0W';
  };

  const list = alerts => {
    const text = JSON.stringify(alerts);
    if (text === listed) return;
    listed = text;
    at('alerts').replaceChildren();
    for (const a of alerts) {
      const item = document.createElement('li');
      item.textContent = a.time_s.toFixed(1) + ' s  ' + a.alert + ' ' + (a.raised ? 'raised' : 'cleared') + ': ' + a.why;
      at('alerts').prepend(item);
    }
  };

  const events = new EventSource('live');
  events.onmessage = e => {
    const message = JSON.parse(e.data);
    list(message.earlier.concat(message.alerts).slice(-8));
    if (message.alerts.some(a => a.raised && a.alert === 'WARNING')) tone();
    show(message.figures);
    document.documentElement.dataset.ready = '1';
  };
  setInterval(() => { if (Date.now() - received > 1500) stale('NO LINK to the program'); }, 250);
  at('sound').addEventListener('click', () => {
    audio = audio || new AudioContext();
    audio.resume();
    at('sound').textContent = 'Tone on WARNING: on';
    tone();
  });
})();
