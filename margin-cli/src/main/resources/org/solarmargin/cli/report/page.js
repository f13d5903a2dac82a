'use strict';
(() => {
  const data = JSON.parse(document.getElementById('data').textContent);
  const root = document.documentElement;
  const ink = name => getComputedStyle(root).getPropertyValue(name).trim();
  const plots = [];
  let linking = false;
  let at = 0;
  let printing = false;

  const clock = s => {
    const sign = s < 0 ? '-' : '';
    const t = Math.abs(s);
    const m = Math.floor(t / 60);
    const rest = (t - 60 * m).toFixed(t % 1 && t < 600 ? 1 : 0).padStart(t % 1 && t < 600 ? 4 : 2, '0');
    return sign + m + ':' + rest;
  };
  /** Three significant figures, which is all that the accuracy supports. */
  const number = (v, unit) => v == null ? '-' : (Math.abs(v) < 1e-9 ? '0' : Math.abs(v) >= 1000 ? v.toFixed(0) : +v.toPrecision(3) + '') + (unit ? ' ' + unit : '');

  /** Axes in the page's colours; a time axis is in minutes and seconds. */
  const axes = (xLabel, yLabel, isTime, small) => [
    {
      stroke: ink('--soft'), grid: {stroke: ink('--rule'), width: 1}, ticks: {stroke: ink('--rule')},
      label: xLabel || null, labelSize: xLabel ? 20 : 0, size: small ? 26 : 34, font: '12px system-ui', labelFont: '12px system-ui',
      values: isTime ? (u, v) => v.map(clock) : undefined, space: 62,
      incrs: isTime ? [.01, .02, .05, .1, .2, .5, 1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 14400, 36000] : undefined,
    },
    {
      stroke: ink('--soft'), grid: {stroke: ink('--rule'), width: 1}, ticks: {stroke: ink('--rule')},
      label: yLabel, labelSize: 20, size: 46, font: '12px system-ui', labelFont: '12px system-ui',
    },
  ];

  const widthOf = el => printing ? 690 : Math.max(el.clientWidth, 200);

  const make = (id, height, options, columns) => {
    const el = document.getElementById(id);
    if (!el) return null;
    const plot = new uPlot({width: widthOf(el), height, legend: {show: false}, ...options}, columns, el);
    plots.push({plot, el, height});
    return plot;
  };

  /* ---- a flight ---- */

  const levels = ['', 'ADVISORY', 'CAUTION', 'WARNING'];

  /** Diagonal lines over a rectangle in its fill colour, so that areas differ by more than colour. */
  const stripes = (ctx, x, y, w, h, gap) => {
    ctx.save();
    ctx.beginPath();
    ctx.rect(x, y, w, h);
    ctx.clip();
    ctx.strokeStyle = ctx.fillStyle;
    ctx.lineWidth = devicePixelRatio;
    ctx.beginPath();
    for (let k = x - h - (x - h) % gap; k < x + w; k += gap) {
      ctx.moveTo(k, y + h);
      ctx.lineTo(k + h, y);
    }
    ctx.stroke();
    ctx.restore();
  };

  const hatch = (ctx, x, y, w, h, level, named) => {
    ctx.save();
    ctx.fillStyle = ink('--' + level.toLowerCase() + '-fill');
    ctx.fillRect(x, y, w, h);
    ctx.fillStyle = ink('--' + level.toLowerCase());
    ctx.globalAlpha = .45;
    if (level !== 'WARNING') stripes(ctx, x, y, w, h, (level === 'CAUTION' ? 9 : 16) * devicePixelRatio);
    ctx.restore();
    ctx.save();
    ctx.fillStyle = ink('--' + level.toLowerCase());
    ctx.fillRect(x, y, Math.max(w, 2 * devicePixelRatio), 3 * devicePixelRatio);
    if (named && w > 14 * devicePixelRatio) {
      ctx.font = 'bold ' + 12 * devicePixelRatio + 'px system-ui';
      ctx.textBaseline = 'bottom';
      ctx.textAlign = 'left';
      ctx.fillText(w > 76 * devicePixelRatio ? level : level[0], x + 1 * devicePixelRatio, y - 3 * devicePixelRatio);
    }
    ctx.restore();
  };

  const spanBox = (u, from, to) => {
    const a = Math.max(u.valToPos(from, 'x', true), u.bbox.left);
    const b = Math.min(u.valToPos(to, 'x', true), u.bbox.left + u.bbox.width);
    return b >= a ? [a, b - a] : null;
  };

  /** Names are drawn only above the first chart, clear of the data. */
  const named = u => u.root.parentElement.id === 'power';

  /** Where lift was lost: a heavy line through all charts. */
  const drawLosses = u => {
    const ctx = u.ctx;
    ctx.save();
    ctx.strokeStyle = ink('--warning');
    ctx.fillStyle = ink('--warning');
    ctx.setLineDash([]);
    ctx.lineWidth = 3 * devicePixelRatio;
    ctx.font = 'bold ' + 12 * devicePixelRatio + 'px system-ui';
    ctx.textBaseline = 'bottom';
    ctx.textAlign = 'center';
    for (const t of data.losses) {
      const box = spanBox(u, t, t);
      if (!box) continue;
      ctx.beginPath();
      ctx.moveTo(box[0], u.bbox.top);
      ctx.lineTo(box[0], u.bbox.top + u.bbox.height);
      ctx.stroke();
      if (!named(u)) continue;
      // on a background, because on a narrow screen the name of an alert may overlap
      const w = ctx.measureText('LOSS').width + 6 * devicePixelRatio;
      ctx.fillStyle = ink('--paper');
      ctx.fillRect(box[0] - w / 2, u.bbox.top - 17 * devicePixelRatio, w, 16 * devicePixelRatio);
      ctx.fillStyle = ink('--warning');
      ctx.fillText('LOSS', box[0], u.bbox.top - 3 * devicePixelRatio);
    }
    ctx.restore();
  };

  const drawAlerts = u => {
    for (const s of data.levels) {
      const box = spanBox(u, s[0], s[1]);
      if (box) hatch(u.ctx, box[0], u.bbox.top, box[1], u.bbox.height, levels[s[2]], named(u));
    }
  };

  const drawMarks = u => {
    const ctx = u.ctx;
    ctx.save();
    ctx.strokeStyle = ink('--ink');
    ctx.setLineDash([3 * devicePixelRatio, 3 * devicePixelRatio]);
    ctx.lineWidth = devicePixelRatio;
    for (const m of data.marks) {
      const box = spanBox(u, m.t, m.t);
      if (!box) continue;
      ctx.beginPath();
      ctx.moveTo(box[0], u.bbox.top);
      ctx.lineTo(box[0], u.bbox.top + u.bbox.height);
      ctx.stroke();
    }
    ctx.restore();
  };

  const statusFill = {SHARP: '--power', COARSE: '--second', WARMING_UP: '--soft', IDLE: '--rule', PAST_KNEE: '--warning', SENSOR_FAULT: '--refused', NO_ESTIMATE: '--rule'};

  const drawStrip = u => {
    const ctx = u.ctx;
    const h = u.bbox.height / 2;
    ctx.save();
    ctx.textBaseline = 'middle';
    ctx.textAlign = 'left';
    ctx.font = 11 * devicePixelRatio + 'px system-ui';
    let filled = -Infinity;
    for (const s of data.statuses) {
      const box = spanBox(u, s[0], s[1]);
      const word = data.statusWords[s[2]];
      if (!box) continue;
      // of several spans within one pixel only the first is painted; painting twice would darken it
      const from = Math.max(box[0], filled);
      const to = box[0] + Math.max(box[1], devicePixelRatio);
      if (to <= from) continue;
      filled = to;
      ctx.globalAlpha = .35;
      ctx.fillStyle = ink(statusFill[word] || '--rule');
      ctx.fillRect(from, u.bbox.top, to - from, h - 2);
      if (word === 'COARSE') stripes(ctx, from, u.bbox.top, to - from, h - 2, 6 * devicePixelRatio);
      ctx.globalAlpha = 1;
      const name = word.replace('_', ' ').toLowerCase();
      if (box[1] > ctx.measureText(name).width + 8 * devicePixelRatio) {
        ctx.fillStyle = ink('--ink');
        ctx.fillText(name, box[0] + 4 * devicePixelRatio, u.bbox.top + h / 2);
      }
    }
    ctx.fillStyle = ink('--warning');
    for (const s of data.refused) {
      const box = spanBox(u, s[0], s[1]);
      if (box) ctx.fillRect(box[0], u.bbox.top + h + 2, Math.max(box[1], 2 * devicePixelRatio), h - 2);
    }
    ctx.restore();
  };

  const flightOptions = (yLabel, series, extra) => ({
    cursor: {sync: {key: 'flight'}, y: false, drag: {x: true, y: false}, points: {size: 7}},
    padding: extra && extra.padding,
    scales: {x: {time: false}, ...(extra && extra.scales)},
    axes: axes(null, yLabel, true, true),
    series: [{}, ...series],
    bands: extra && extra.bands,
    hooks: {
      drawClear: [drawAlerts],
      draw: [drawMarks, drawLosses, ...(extra && extra.draw || [])],
      setScale: [(u, key) => {
        if (key !== 'x' || linking) return;
        linking = true;
        const {min, max} = u.scales.x;
        for (const p of plots) if (p.flight && p.plot !== u) p.plot.setScale('x', {min, max});
        linking = false;
        root.dataset.from = min;
        root.dataset.to = max;
      }],
      setCursor: [u => { if (u.cursor.idx != null && u.cursor.left >= 0) show(u.cursor.idx); }],
    },
  });

  const line = (label, colour, dash, width) => ({label, stroke: ink(colour), width: width || 2, dash, spanGaps: true, pxAlign: 0, points: {show: false}});

  /** Photocurrent at 1 sun, saturation current and thermal voltage of the cell, between two whole degrees. */
  const cellAt = celsius => {
    const table = data.cell.degrees;
    const place = Math.min(Math.max(celsius - data.cell.first, 0), table.length - 1);
    const k = Math.min(Math.floor(place), Math.max(table.length - 2, 0));
    const mixed = c => table[k][c] + (place - k) * ((table[k + 1] || table[k])[c] - table[k][c]);
    return {photo: mixed(0), i0: Math.exp(mixed(1)), thermal: mixed(2)};
  };

  /** The array's curve at the cursor, explicit in the diode voltage. */
  const curve = i => {
    const cell = data.cell;
    const suns = data.suns[i];
    if (suns == null || data.cellC[i] == null) return null;
    const now = cellAt(data.cellC[i]);
    const points = [];
    for (let n = 0; n <= 300; n++) {
      // finer towards the knee and beyond
      const u = (n < 60 ? n / 60 * .5 : .5 + (n - 60) / 240 * .5) * 0.9;
      const a = suns * now.photo + now.i0 - now.i0 * Math.exp(u / now.thermal) - u * suns / cell.rsh;
      const v = cell.series * (u - a * cell.rs);
      if (v >= 0 && a >= 0) points.push([v, a * cell.parallel]);
    }
    return points.length > 4 ? points : null;
  };

  let curvePlot = null;
  const showCurve = i => {
    const el = document.getElementById('curve');
    if (!el) return;
    const points = curve(i);
    el.dataset.peak = points ? Math.max(...points.map(p => p[0] * p[1])).toFixed(2) : '';
    const rows = points ? points.map(p => [p[0], p[1], null, null]) : [];
    if (data.volts[i] != null) rows.push([data.volts[i], null, data.amps[i], null]);
    if (points && data.mppVolts[i] > 0) rows.push([data.mppVolts[i], null, null, data.available[i] / data.mppVolts[i]]);
    rows.sort((a, b) => a[0] - b[0]);
    const columns = [0, 1, 2, 3].map(c => rows.map(r => r[c]));
    if (curvePlot) {
      curvePlot.setData(columns);
      return;
    }
    const dot = (label, colour, size) => ({label, stroke: ink(colour), width: 0, points: {show: true, size, width: 2.5, stroke: ink(colour), fill: ink('--paper')}});
    curvePlot = make('curve', 230, {
      cursor: {show: false},
      scales: {x: {time: false}, y: {range: (u, lo, hi) => [0, hi > 0 ? hi * 1.08 : 1]}},
      axes: axes('bus voltage, V', 'current, A', false),
      series: [{}, line('curve', '--power'), dot('craft', '--load', 10), dot('knee', '--second', 12)],
    }, columns);
  };

  const show = i => {
    if (i < 0 || i >= data.t.length) return;
    at = i;
    const put = (name, text) => { const el = document.querySelector('[data-now="' + name + '"]'); if (el) el.textContent = text; };
    put('time', clock(data.t[i]) + ' (' + +(data.origin + data.t[i]).toFixed(3) + ' s)');
    put('status', data.statusWords[data.status[i]].replace('_', ' ').toLowerCase());
    put('level', levels[data.level[i]] || 'none');
    put('available', number(data.available[i], 'W'));
    put('low', number(data.low[i], 'W'));
    put('demand', number(data.demand[i], 'W'));
    put('margin', number(data.margin[i], 'W'));
    put('lift', number(data.lift[i], '%'));
    put('volts', number(data.volts[i], 'V'));
    put('amps', number(data.amps[i], 'A'));
    put('mppVolts', number(data.mppVolts[i], 'V'));
    put('throttle', number(data.throttle[i], ''));
    put('ceiling', number(data.ceiling[i], ''));
    put('suns', number(data.suns[i], 'suns'));
    put('cellC', number(data.cellC[i], '\u00b0C'));
    if (data.truth) put('truth', number(data.truth[i], 'W'));
    const brief = document.getElementById('brief');
    if (brief) {
      const level = levels[data.level[i]];
      brief.textContent = clock(data.t[i]) + '  ' + (data.available[i] == null ? 'no estimate' : number(data.available[i], 'W') + ', at least ' + number(data.low[i], 'W')) + '; demand ' + number(data.demand[i], 'W') + '; throttle ' + number(data.throttle[i], '') + ' of ' + number(data.ceiling[i], '') + (level ? '; ' + level : '');
    }
    showCurve(i);
  };

  const visible = () => {
    const p = plots.find(p => p.flight);
    return p ? [p.plot.scales.x.min, p.plot.scales.x.max] : [0, 1];
  };
  const zoom = (from, to) => {
    const end = data.t[data.t.length - 1];
    const least = Math.min(1, end - data.t[0]);
    const a = Math.max(data.t[0], Math.min(from, end - least));
    const b = Math.min(end, Math.max(to, a + least));
    const p = plots.find(p => p.flight);
    if (p) p.plot.setScale('x', {min: a, max: b});
  };
  const nearest = t => {
    let lo = 0;
    let hi = data.t.length - 1;
    while (hi - lo > 1) {
      const mid = (lo + hi) >> 1;
      if (data.t[mid] <= t) lo = mid; else hi = mid;
    }
    return t - data.t[lo] < data.t[hi] - t ? lo : hi;
  };
  const point = i => {
    for (const p of plots) {
      if (p.flight) p.plot.setCursor({left: p.plot.valToPos(data.t[i], 'x'), top: 10}, false);
    }
    show(i);
  };
  const goTo = t => {
    const [from, to] = visible();
    const half = Math.min(20, (to - from) / 2);
    zoom(t - half, t + half);
    // the cursor is set after the charts have been redrawn at the new scale
    setTimeout(() => point(nearest(t)), 0);
  };

  const buildFlight = () => {
    const d = data;
    const power = [line('available', '--power'), line('lower bound', '--power', [2, 4], 1.5), line('demand', '--load', [9, 4])];
    const columns = [d.t, d.available, d.low, d.demand];
    if (d.truth) {
      power.push(line('truth', '--truth', [1, 3], 2.5));
      columns.push(d.truth);
    }
    const first = make('power', 300, flightOptions('power, W', power, {padding: [20, null, null, null], bands: [{series: [1, 2], fill: ink('--band')}], scales: {y: {range: (u, lo, hi) => [0, (hi || 1) * 1.05]}}}), columns);
    const second = make('voltage', 170, flightOptions('voltage, V', [line('bus', '--load', [9, 4]), line('knee', '--second')]), [d.t, d.volts, d.mppVolts]);
    const third = make('throttle', 170, flightOptions('throttle', [line('throttle', '--load', [9, 4]), line('ceiling', '--second')], {scales: {y: {range: [0, 1.02]}}}), [d.t, d.throttle, d.ceiling]);
    const strip = flightOptions('', [{stroke: 'transparent', points: {show: false}}], {draw: [drawStrip], scales: {y: {range: [0, 1]}}});
    strip.hooks.drawClear = [];
    strip.axes[1] = {...strip.axes[1], values: () => [], ticks: {show: false}, grid: {show: false}};
    strip.axes[0].grid = {show: false};
    const fourth = make('strip', 84, strip, [d.t, d.t.map(() => 0)]);
    for (const p of plots) p.flight = [first, second, third, fourth].includes(p.plot);
    if (d.t.length) show(Math.min(d.startAt, d.t.length - 1));
  };

  /* ---- any other page: charts from specifications ---- */

  const two = n => String(n).padStart(2, '0');
  const hours = h => two(Math.floor(Math.round(60 * h) / 60)) + ':' + two(Math.round(60 * h) % 60);
  const months = ['Jan', 'Feb', 'Mar', 'Apr', 'May', 'Jun', 'Jul', 'Aug', 'Sep', 'Oct', 'Nov', 'Dec'];
  const date = (year, day) => new Date(Date.UTC(year, 0, day));

  /** Clock times or months below the axis, fewer if it is narrow. */
  const formAxis = spec => {
    if (spec.xForm === 'clock') return {incrs: [.25, .5, 1, 2, 3, 6], values: (u, v) => v.map(hours), space: 48};
    if (spec.xForm !== 'date') return {};
    const firsts = months.map((m, k) => Math.round((Date.UTC(spec.year, k, 1) - Date.UTC(spec.year, 0, 1)) / 864e5) + 1);
    return {
      splits: u => firsts.filter((d, k) => k % (u.width < 480 ? 2 : 1) === 0 && d >= u.scales.x.min && d <= u.scales.x.max),
      values: (u, v) => v.map(d => months[date(spec.year, d).getUTCMonth()]),
    };
  };
  const formX = (spec, x) => spec.xForm === 'clock' ? hours(x) : spec.xForm === 'date' ? date(spec.year, x).toISOString().slice(0, 10) : spec.xLabel + ' ' + (+x.toPrecision(6));

  /** Whether all points have one abscissa, for which there is no range of its own. */
  const onePlace = x => x.length > 0 && x.every(v => v === x[0]);

  const buildChart = spec => {
    const [xAxis, yAxis] = axes(spec.xLabel, spec.yLabel, false);
    const series = spec.series.map(s => ({
      label: s.name, stroke: ink(s.colour), width: s.points ? 0 : 2, dash: s.dash || undefined, spanGaps: true, pxAlign: 0,
      points: s.points ? {show: true, size: s.points, width: 2, stroke: ink(s.colour), fill: s.solid ? ink(s.colour) : 'transparent'} : {show: false},
    }));
    make(spec.id, spec.height, {
      cursor: {y: false, drag: {x: true, y: false}, points: {size: 7}},
      scales: {x: {time: false, range: spec.xRange ? () => spec.xRange : onePlace(spec.x) ? () => [Math.min(spec.x[0], 0), spec.x[0] || 1] : undefined}, y: {range: spec.fromZero ? (u, lo, hi) => [0, (hi || 1) * 1.08] : undefined}},
      axes: [{...xAxis, ...formAxis(spec)}, yAxis],
      series: [{}, ...series],
      hooks: {setCursor: [u => {
        const out = document.getElementById(spec.id + '-at');
        const i = u.cursor.idx;
        if (!out || i == null) return;
        out.textContent = formX(spec, u.data[0][i]) + spec.series.map((s, k) => u.data[k + 1][i] == null ? '' : '; ' + s.name + ' ' + (spec.xForm ? number(u.data[k + 1][i]) : +u.data[k + 1][i].toPrecision(6))).join('');
      }]},
    }, [spec.x, ...spec.series.map(s => s.y)]);
  };

  const build = () => {
    for (const p of plots) p.plot.destroy();
    plots.length = 0;
    curvePlot = null;
    if (data.kind === 'flight') buildFlight();
    for (const spec of data.charts || []) buildChart(spec);
    root.dataset.ready = plots.length;
  };

  const fit = () => { for (const p of plots) p.plot.setSize({width: printing ? Math.min(widthOf(p.el), p.el.id === 'curve' ? 330 : 690) : widthOf(p.el), height: printing ? Math.max(p.height * .5, 58) : p.height}); };

  build();
  if (data.kind === 'flight') {
    const acts = {
      all: () => zoom(data.t[0], data.t[data.t.length - 1]),
      closer: () => { const [a, b] = visible(); const c = data.t[at]; zoom(c - (c - a) / 2, c + (b - c) / 2); },
      wider: () => { const [a, b] = visible(); const c = data.t[at]; zoom(c - (c - a) * 2, c + (b - c) * 2); },
      earlier: () => { const [a, b] = visible(); const by = (b - a) / 2; zoom(a - Math.min(by, a - data.t[0]), b - Math.min(by, a - data.t[0])); },
      later: () => { const [a, b] = visible(); const end = data.t[data.t.length - 1]; const by = Math.min((b - a) / 2, end - b); zoom(a + by, b + by); },
    };
    document.addEventListener('click', e => {
      const act = e.target.closest('[data-act]');
      if (act) acts[act.dataset.act]();
      const go = e.target.closest('[data-go]');
      if (go) {
        goTo(+go.dataset.go);
        document.getElementById('power').scrollIntoView({block: 'center'});
        document.getElementById('power').focus({preventScroll: true});
      }
    });
    // one finger moves the cursor, or pans a zoomed flight; two fingers zoom
    let fingers = null;
    const time = (plot, touch) => plot.posToVal(touch.clientX - plot.over.getBoundingClientRect().left, 'x');
    document.addEventListener('touchstart', e => {
      const p = plots.find(p => p.flight && p.el.contains(e.target));
      fingers = p ? {plot: p.plot, from: visible(), at: [...e.touches].map(t => time(p.plot, t)), x: [...e.touches].map(t => t.clientX), width: p.plot.over.clientWidth} : null;
    }, {passive: true});
    document.addEventListener('touchmove', e => {
      if (!fingers || e.touches.length !== fingers.x.length) return;
      const [a, b] = fingers.from;
      if (e.touches.length === 2) {
        e.preventDefault();
        const ratio = Math.abs(fingers.x[0] - fingers.x[1]) / Math.max(Math.abs(e.touches[0].clientX - e.touches[1].clientX), 1);
        const middle = (fingers.at[0] + fingers.at[1]) / 2;
        zoom(middle - (middle - a) * ratio, middle + (b - middle) * ratio);
      } else if (b - a < .95 * (data.t[data.t.length - 1] - data.t[0])) {
        const by = (fingers.x[0] - e.touches[0].clientX) / fingers.width * (b - a);
        const end = data.t[data.t.length - 1];
        const move = Math.max(data.t[0] - a, Math.min(by, end - b));
        zoom(a + move, b + move);
      } else {
        point(nearest(time(fingers.plot, e.touches[0])));
      }
    }, {passive: false});
    document.addEventListener('keydown', e => {
      if (!e.target.closest || !e.target.closest('.plot')) return;
      const far = e.shiftKey ? 25 : 1;
      const keys = {
        ArrowLeft: () => point(Math.max(at - far, 0)), ArrowRight: () => point(Math.min(at + far, data.t.length - 1)),
        Home: () => point(0), End: () => point(data.t.length - 1), '+': acts.closer, '-': acts.wider, '0': acts.all,
      };
      if (keys[e.key]) {
        e.preventDefault();
        keys[e.key]();
      }
    });
  }
  new ResizeObserver(() => { if (!printing) fit(); }).observe(document.body);
  matchMedia('(prefers-color-scheme: dark)').addEventListener('change', build);
  /** Charts in the dark palette are redrawn in the light one for printing. */
  const print = on => {
    const span = data.kind === 'flight' ? visible() : null;
    printing = on;
    root.toggleAttribute('data-print', on);
    if (matchMedia('(prefers-color-scheme: dark)').matches) {
      build();
      if (span) zoom(...span);
    }
    fit();
  };
  addEventListener('beforeprint', () => print(true));
  addEventListener('afterprint', () => print(false));
})();
