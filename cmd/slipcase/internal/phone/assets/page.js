"use strict";
(function () {
  const byId = (id) => document.getElementById(id);
  const form = byId("slip"), answer = byId("answer"), waiting = byId("waiting"), link = byId("link");
  const pad = byId("pad"), slips = "slipcase-slips", typing = "slipcase-typing", kept = "slipcase-card";
  const load = (key, none) => { try { return JSON.parse(localStorage.getItem(key)) || none; } catch (e) { return none; } };
  const save = (key, value) => { try { localStorage.setItem(key, JSON.stringify(value)); return true; } catch (e) { return false; } };

  // An id as the log makes them: s and nine of its alphabet, from the phone's own chance.
  function newID() {
    const letters = "abcdefghijklmnopqrstuvwxyz234567";
    return "s" + Array.from(crypto.getRandomValues(new Uint8Array(9)), (b) => letters[b & 31]).join("");
  }

  // The keypad: a figure that has all its digits goes on to the next by itself.
  let field = null;
  const figures = (f) => Array.from(f.querySelectorAll("input[data-digits]")).filter((i) => !i.closest("details:not([open])"));
  function pick(input) {
    field = input;
    pad.hidden = !input;
    document.body.classList.toggle("typing", !!input);
    if (!input) return;
    show();
    if (document.activeElement !== input) input.focus({preventScroll: true});
    input.scrollIntoView({block: "center"});
  }
  function show() {
    const label = document.querySelector('label[for="' + field.id + '"]').textContent;
    byId("pad-what").value = label + " " + (field.value || "");
  }
  function next() {
    const all = figures(field.form), at = all.indexOf(field);
    if (at + 1 < all.length) { pick(all[at + 1]); return; }
    done();
  }
  function done() {
    const go = field.form.querySelector("button.go");
    pick(null);
    go.focus();
    go.scrollIntoView({block: "center"});
  }
  function press(key) {
    if (!field) return;
    if (key === "next") { next(); return; }
    if (key === "done") { done(); return; }
    if (key === "back") {
      if (field.value) { field.value = field.value.slice(0, -1); }
      else { const all = figures(field.form); pick(all[Math.max(0, all.indexOf(field) - 1)]); }
    } else if (key === "-") {
      if (!field.dataset.minus && field.dataset.minus !== "") return;
      field.value = field.value.startsWith("-") ? field.value.slice(1) : "-" + field.value;
    } else {
      field.value += key;
      const digits = field.value.replace(/^-/, "");
      const need = JSON.parse(field.dataset.digits)[+digits[0]];
      if (/^[0-9]+$/.test(digits) && digits.length >= need) { keep(); next(); return; }
    }
    keep();
    if (field) show();
  }
  if (pad) {
    const all = document.querySelectorAll("input[data-digits]");
    all.forEach((i) => {
      i.setAttribute("inputmode", "none");
      i.addEventListener("focus", () => pick(i));
      i.addEventListener("input", () => { keep(); if (field) show(); });
    });
    pad.addEventListener("mousedown", (e) => e.preventDefault());
    pad.addEventListener("click", (e) => { const b = e.target.closest("button"); if (b) press(b.dataset.key); });
    document.addEventListener("focusin", (e) => { if (!e.target.closest("#pad") && !e.target.dataset.digits) pick(null); });
  }

  // What is half typed outlives a reload.
  function keep() {
    if (form) save(typing, {at: Date.now(), fields: Array.from(new FormData(form)).filter(([n]) => n !== "token" && n !== "id")});
  }
  function begin() {
    form.querySelector('[name="id"]').value = newID();
  }
  if (form) {
    begin();
    const before = load(typing, null);
    if (before) before.fields.forEach(([name, value]) => {
      const input = form.querySelector('[name="' + name + '"]:not([type=hidden])');
      if (!input) return;
      if (input.type === "radio") { form.querySelectorAll('[name="' + name + '"]').forEach((r) => { r.checked = r.value === value; }); }
      else { input.value = value; }
      if (value && input.closest("details")) input.closest("details").open = true;
    });
    form.addEventListener("input", keep);
    form.addEventListener("submit", (e) => {
      e.preventDefault();
      const fields = Array.from(new FormData(form)).filter(([n]) => n !== "token");
      const id = form.querySelector('[name="id"]').value;
      if (!put({id: id, at: Date.now(), action: "/slip", fields: fields, state: "waiting"})) { form.submit(); return; }
      localStorage.removeItem(typing);
      form.querySelectorAll("input[data-digits],#f-words,#f-notes,#f-text").forEach((i) => { i.value = ""; });
      begin();
      pick(null);
      answer.scrollIntoView();
      send();
    });
  }

  // Slips that are typed stay on the phone until the log has them.
  function put(entry) {
    const list = load(slips, []).filter((s) => s.id !== entry.id);
    list.push(entry);
    const done = save(slips, list);
    showWaiting();
    return done;
  }
  function drop(id) { save(slips, load(slips, []).filter((s) => s.id !== id)); showWaiting(); }
  function showWaiting() {
    const list = load(slips, []);
    if (!waiting) return;
    waiting.hidden = !list.length;
    const ul = waiting.querySelector("ul");
    ul.textContent = "";
    list.forEach((s) => {
      const li = document.createElement("li"), of = (n) => (s.fields.find(([name]) => name === n) || ["", ""])[1];
      const what = ["et_1320", "et_1000", "et_660"].map(of).find((v) => v) || of("text").slice(0, 40) || of("reaction");
      li.textContent = new Date(s.at).toTimeString().slice(0, 5) + " " + of("round") + " " + what + (s.state === "waiting" ? "" : ": " + s.state + " ");
      if (s.state !== "waiting") {
        const b = document.createElement("button");
        b.type = "button";
        b.textContent = "Change it";
        b.addEventListener("click", () => { save(typing, {at: Date.now(), fields: s.fields}); drop(s.id); location.reload(); });
        li.append(b);
      }
      ul.append(li);
    });
  }
  const token = () => (document.querySelector('[name="token"]') || {}).value;
  let sending = false;
  async function send() {
    if (sending) return;
    sending = true;
    try {
      for (;;) {
        const s = load(slips, []).find((s) => s.state === "waiting");
        if (!s) break;
        const body = new URLSearchParams(s.fields.filter(([n]) => n !== "token"));
        body.set("token", token());
        if (!body.has("at")) body.set("age_ms", String(Math.max(0, Date.now() - s.at)));
        const stop = new AbortController(), late = setTimeout(() => stop.abort(), 15000);
        let r;
        try {
          r = await fetch(s.action, {method: "POST", body: body, headers: {"Slipcase-Part": "1"}, signal: stop.signal});
        } finally { clearTimeout(late); }
        const state = r.headers.get("Slipcase-Slip"), html = await r.text();
        if (!state) { reach(r.status === 403 ? html : "The laptop could not record it: " + html); break; }
        reach("");
        answer.innerHTML = html;
        if (state === "recorded") { drop(s.id); refresh(); } else { put(Object.assign(s, {state: state})); }
      }
    } catch (e) {
      reach("The laptop is out of reach: slips wait here.");
    }
    sending = false;
  }
  function reach(words) { if (link) { link.textContent = words; link.hidden = !words; } }
  if (answer) answer.addEventListener("submit", (e) => {
    const of = e.target;
    if (!of.classList.contains("choice")) return;
    const fields = Array.from(new FormData(of)), id = (fields.find(([n]) => n === "id") || [])[1];
    if (!id || !waiting) return; // an amendment, or air: sent as it is
    e.preventDefault();
    const was = load(slips, []).find((s) => s.id === id) || {at: Date.now()};
    put({id: id, at: was.at, action: of.getAttribute("action"), fields: fields.filter(([n]) => n !== "token"), state: "waiting"});
    send();
  });

  // What others record, and the card, which stays on the phone.
  async function refresh() {
    try {
      const r = await fetch("/now");
      if (r.ok) { byId("now").innerHTML = await r.text(); nextRound(); }
      const c = await fetch("/card");
      if (c.ok) { const html = await c.text(); save(kept, {html: html}); byId("card").innerHTML = html; age(); }
    } catch (e) { /* the events will tell */ }
  }
  // The round that comes next, unless a slip is being typed.
  function nextRound() {
    const now = byId("now").querySelector("[data-round]");
    if (form && now && !figures(form).some((i) => i.value)) form.querySelector('[name="round"]').value = now.dataset.round;
  }
  function age() {
    const card = byId("card") && byId("card").querySelector("[data-made]");
    if (!card || !+card.dataset.made) return;
    const minutes = Math.round((Date.now() - card.dataset.made) / 60000), span = card.querySelector(".age");
    if (span) span.textContent = minutes < 1 ? "" : minutes < 120 ? ", " + minutes + " min ago" : ", " + Math.round(minutes / 60) + " h ago";
  }
  if (form) {
    const card = load(kept, null), here = byId("card").querySelector("[data-made]");
    if (card) {
      const box = document.createElement("div");
      box.innerHTML = card.html;
      const old = box.querySelector("[data-made]");
      if (old && +old.dataset.made > +here.dataset.made) byId("card").innerHTML = card.html;
    }
    save(kept, {html: byId("card").innerHTML});
    age();
    setInterval(age, 30000);
    showWaiting();
    const events = new EventSource("/events");
    events.addEventListener("changed", refresh);
    events.addEventListener("open", () => { reach(""); send(); });
    events.addEventListener("error", () => reach("The laptop is out of reach: slips wait here."));
    addEventListener("online", send);
    setInterval(send, 5000);
    send();
    if (window.isSecureContext && navigator.serviceWorker) navigator.serviceWorker.register("/worker.js");
  }
})();
