"use strict";
// P is the page. Everything that a person typed is shown by textContent, never as markup.
var P = { lines: {}, settings: { units: "metric" }, views: {} };

// P.h makes an element; a function as attribute is a listener, an array of children is laid flat.
P.h = function (tag, attrs, ...kids) {
  const e = document.createElement(tag);
  for (const [k, v] of Object.entries(attrs || {})) {
    if (v === undefined || v === null || v === false) continue;
    if (typeof v === "function") e.addEventListener(k, v);
    else if (k === "value" || k === "checked" || k === "disabled") e[k] = v;
    else e.setAttribute(k, v === true ? "" : v);
  }
  for (const kid of kids.flat(9)) if (kid !== null && kid !== undefined && kid !== false) e.append(kid);
  return e;
};

// P.t gives a text of the table; {0}, {1} … are filled in.
P.t = function (key, ...args) {
  const s = WORDS[key];
  if (s === undefined) return "[" + key + "]";
  return s.replace(/\{(\d)\}/g, (_, i) => args[i]);
};

// P.tidy keeps a figure and its unit on one line.
P.tidy = (s) =>
  (s || "").replace(
    /([\d)]) (?=(?:µC\/m²?|[nµ]C|k?V|mJ|[µmc]?m|m\/min|m\/s|ft\/min|mil|in|[kMG]?Ω|%RH|%|°[CF])(?![\wµ²/]))/g,
    "$1\u00a0",
  );

// P.number reads what a person typed: decimal comma or point, any minus sign. It gives the text of the number or a
// fault; what can be read in two ways is refused.
P.number = function (s) {
  let x = s
    .trim()
    .replace(/[\u2212\u2013\u2014]/g, "-")
    .replace(/[\s\u00a0\u202f\u2009']/g, "");
  if (x === "") return { empty: true };
  if (/^[+-]?[1-9]\d{0,2}(,\d{3})$/.test(x))
    return { fault: P.t("twoWays", x, x.replace(",", ""), x.replace(",", ".")) };
  if ((x.match(/[.,]/g) || []).length > 1) return { fault: P.t("thousands", x) };
  x = x.replace(",", ".");
  if (!/^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d{1,3})?$/i.test(x)) return { fault: P.t("noNumber", s.trim().slice(0, 40)) };
  x = x
    .replace(/^\+/, "")
    .replace(/^(-?)\./, "$10.")
    .replace(/\.$/, "");
  return { text: x };
};

// Storage: one key a line, written at once, so that a dead battery loses nothing.
P.prefix = "pithball.line.";
P.load = function () {
  P.lines = {};
  try {
    for (let i = 0; i < localStorage.length; i++) {
      const k = localStorage.key(i);
      if (!k.startsWith(P.prefix)) continue;
      try {
        const l = JSON.parse(localStorage.getItem(k));
        if (l && l.id && l.desc && Array.isArray(l.rows)) P.lines[l.id] = l;
      } catch (e) {
        P.damaged = true;
      }
    }
    Object.assign(P.settings, JSON.parse(localStorage.getItem("pithball.settings") || "{}"));
  } catch (e) {
    P.noStore = true;
  }
};
P.save = function (l) {
  l.changed = Date.now();
  try {
    localStorage.setItem(P.prefix + l.id, JSON.stringify(l));
    P.full = false;
  } catch (e) {
    P.full = true;
    P.say(P.t("noRoom"));
  }
};
P.saveSettings = function () {
  try {
    localStorage.setItem("pithball.settings", JSON.stringify(P.settings));
  } catch (e) {
    P.noStore = true;
  }
};
P.drop = function (id) {
  delete P.lines[id];
  try {
    localStorage.removeItem(P.prefix + id);
  } catch (e) {
    P.noStore = true;
  }
};
P.id = function () {
  return Date.now().toString(36) + Math.random().toString(36).slice(2, 6);
};
P.newLine = function (name) {
  const l = {
    id: P.id(),
    changed: 0,
    care: false,
    raw: {},
    draft: {},
    rows: [],
    asks: { wrong: [], words: "", since: "", fire: "", by: "" },
    desc: { name: name || "", web: {}, air: {}, stations: [] },
  };
  l.desc.stations.push({ name: P.t("unwind"), kind: "unwind", at: "0 m" }, { name: P.t("winder"), kind: "winder" });
  P.lines[l.id] = l;
  P.save(l);
  return l;
};

// The computing: asked through a worker; the page works for typing before it is there.
P.waiting = new Map();
P.next = 1;
P.compute = { state: "loading" };
P.startComputing = async function () {
  P.compute.state = "loading";
  const fail = (why) => {
    P.compute.state = "failed";
    P.compute.why = why;
    for (const [, , done] of P.early.splice(0)) done(null);
    P.paintStrip();
  };
  try {
    // The worker reads its script while the module is on its way.
    const code = document.getElementById("worker");
    const w = new Worker(
      code ? URL.createObjectURL(new Blob([code.textContent], { type: "text/javascript" })) : "worker.js",
    );
    w.onerror = (e) => fail(e.message || "worker");
    w.onmessage = (e) => {
      const m = e.data;
      if (m.ready) {
        P.compute.state = "ready";
        P.computing = w;
        P.begin();
        return;
      }
      if (m.failed) {
        fail(m.failed);
        return;
      }
      P.compute.millis = m.millis;
      const done = P.waiting.get(m.id);
      P.waiting.delete(m.id);
      if (done) done(m.out);
    };
    const inline = document.getElementById("module");
    let bytes;
    if (inline) {
      const s = inline.textContent.trim();
      if (Uint8Array.fromBase64) bytes = Uint8Array.fromBase64(s).buffer;
      else bytes = Uint8Array.from(atob(s), (c) => c.charCodeAt(0)).buffer;
    } else {
      const r = await fetch("app.wasm.gz", { credentials: "omit" });
      if (!r.ok) throw new Error(String(r.status));
      bytes = await r.arrayBuffer();
    }
    w.postMessage({ module: bytes }, [bytes]);
  } catch (e) {
    fail(String(e));
  }
};
// P.early holds what was asked before the computing was there.
P.early = [];
P.ask = function (name, body) {
  return new Promise((done) => {
    if (!P.computing) {
      if (P.compute.state === "loading") P.early.push([name, body, done]);
      else done(null);
      return;
    }
    const id = P.next++;
    P.waiting.set(id, done);
    P.computing.postMessage({ id, name, body });
  });
};
P.begin = async function () {
  const answered = P.refresh();
  for (const [name, body, done] of P.early.splice(0)) P.ask(name, body).then(done);
  P.paintStrip();
  P.paintLists();
  await answered;
  // The page is put by for hours without a network once it has answered: both at a time would take twice as long.
  if (!document.getElementById("module") && "serviceWorker" in navigator)
    navigator.serviceWorker.register("keep.js").catch(() => {});
  P.warm();
};

// P.warm answers what is there, or a small line, some times and shows nothing of it, while nobody types or waits: a
// browser compiles a function when it is first called, and well only when it was called often. The first entry would
// wait for its answer five times as long as the fiftieth.
P.warm = async function () {
  let last = performance.now();
  const now = () => (last = performance.now());
  for (const e of ["pointerdown", "keydown", "input", "scroll"]) window.addEventListener(e, now, { passive: true });
  const rest = () => new Promise((ok) => setTimeout(ok, 200));
  for (let i = 0; i < 30 && P.computing; ) {
    await rest();
    if (document.hidden || P.waiting.size || performance.now() - last < (i ? 700 : 0)) continue;
    const l = P.line,
      own = l && !P.isGoods(l) && P.answerOf === l.id && P.answer && P.answer.verdict;
    await P.ask(own ? "answer" : "warm", own ? P.request(l) : {});
    i++;
  }
  P.warmed = true;
};

// P.request is the line as the computing takes it.
P.request = function (l) {
  return {
    line: JSON.parse(JSON.stringify(l.desc)),
    units: P.settings.units,
    names: P.fileNames(l),
    rows: l.rows.map((r) => {
      const c = Object.assign({}, r);
      delete c.id;
      return c;
    }),
  };
};
P.fileNames = function (l) {
  const stem =
    (l.desc.name || "line")
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, "-")
      .replace(/^-|-$/g, "")
      .slice(0, 40) || "line";
  return [stem + "-line.json", stem + "-survey.csv"];
};

// P.refresh computes the answer anew; while one runs, only the last change counts.
P.refresh = async function () {
  const l = P.line;
  if (!l || !P.computing) return;
  if (P.busy) {
    P.again = true;
    return;
  }
  P.busy = true;
  P.paintStrip();
  const ids = l.rows.map((r) => r.id);
  const a = P.isGoods(l)
    ? await P.ask("goods", P.goodsRequest(l, P.shut(l) ? [] : (l.goods.tries || []).filter((c) => c.to || c.station)))
    : await P.ask("answer", P.request(l));
  P.busy = false;
  if (P.again || P.line !== l) {
    P.again = false;
    P.refresh();
    return;
  }
  P.answer = a;
  P.answerOf = l.id;
  P.answerRows = ids;
  P.answerMillis = P.compute.millis;
  P.paintStrip();
  if (P.onAnswer) P.onAnswer();
  document.documentElement.dataset.answers = String(1 + Number(document.documentElement.dataset.answers || 0));
};
// P.shown is what the answer says of readings, by their ids.
P.shown = function (l) {
  const list = (P.answer && P.answerOf === l.id && P.answer.shown) || [];
  return new Map(list.map((s, i) => [P.answerRows[i], s]));
};
P.touch = function () {
  P.save(P.line);
  P.refresh();
};

// P.ask2 asks before something is lost.
P.sure = function (text) {
  return window.confirm(text);
};
