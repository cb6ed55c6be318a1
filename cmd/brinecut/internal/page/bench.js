// The page works without this. With it, what is tapped is kept on the phone until the bench has it in
// the file, timers count down, and what others record is shown.
"use strict";
(() => {
  const $ = (id) => document.getElementById(id);
  const bin = document.body.dataset.bin;
  const shelf = "bench-" + bin;
  const ahead = Number(document.body.dataset.now) - Date.now(); // of the server's clock
  let online = true, known = true, busy = false, wait = 1000, again = 0;

  // What was tapped and is not known to be in the file. It is written down before it is sent.
  const read = () => { try { return JSON.parse(localStorage.getItem(shelf)) || []; } catch { return memory; } };
  let memory = [];
  const write = (list) => { memory = list; try { localStorage.setItem(shelf, JSON.stringify(list)); } catch { /* kept in memory */ } };

  const line = (text, off) => { const p = $("line"); p.classList.toggle("off", !!off); if (p.textContent !== text) p.textContent = text; };
  const tell = (answer, label) => {
    const box = $("box");
    box.className = "box" + (answer.ok ? "" : " bad");
    box.replaceChildren();
    for (const t of [(label ? label + ": " : "") + answer.says, ...(answer.more || []), answer.cure || ""]) {
      if (!t) continue;
      const p = document.createElement("p");
      p.textContent = t;
      box.append(p);
    }
    if (answer.undo) {
      const a = document.createElement("a");
      a.className = "undo";
      a.href = "/undo?id=" + encodeURIComponent(answer.undo);
      a.textContent = "Undo this";
      box.append(a);
    }
    refused();
  };

  // What the bench would not take, and whose form is gone from the page, stands here until it is seen.
  const no = shelf + "-refused";
  const refused = (more) => {
    let list = [];
    try {
      list = JSON.parse(localStorage.getItem(no)) || [];
      if (more) localStorage.setItem(no, JSON.stringify(list = [...list, more].slice(-20)));
    } catch { if (more) list.push(more); }
    if (!list.length) return;
    const p = document.createElement("p"), b = document.createElement("button");
    p.textContent = "Not recorded, and not sent again: " + list.join("; ") + ".";
    b.type = "button";
    b.className = "small";
    b.textContent = "I have seen this";
    b.onclick = () => { try { localStorage.removeItem(no); } catch { /* it was never kept */ } p.remove(); b.remove(); };
    $("box").classList.add("bad");
    $("box").append(p, b);
  };
  const state = () => {
    const n = read().length;
    if (!known) line(`This phone is not known at the bench any more. Scan the newest code.${n ? ` Kept on this phone: ${n}.` : ""}`, true);
    else if (n && !online) line(`No answer from the bench. Kept on this phone: ${n}. Sent by itself as soon as the bench answers; you need not tap again.`, true);
    else if (n) line(`Sending ${n} …`);
    else if (!online) line("No answer from the bench. Taps are kept on this phone until it answers.", true);
    else line("Connected. Everything tapped is in the file.");
  };

  const post = async (item) => {
    const stop = new AbortController();
    const late = setTimeout(() => stop.abort(), 12000);
    try {
      const r = await fetch(item.to, { method: "POST", body: item.body, signal: stop.signal, redirect: "error",
        headers: { "Accept": "application/json", "Content-Type": "application/x-www-form-urlencoded" } });
      const a = await r.json();
      known = r.status !== 401;
      if (!a || typeof a.says !== "string") throw new Error("no answer of the bench");
      return a;
    } finally { clearTimeout(late); }
  };

  // One at a time, in order. A form carries its own mark, so sending it again never counts twice.
  const flush = async () => {
    if (busy) return;
    busy = true;
    clearTimeout(again);
    let next = "";
    try {
      for (let list = read(); list.length; list = read()) {
        state();
        const item = list[0];
        const a = await post(item);
        online = true;
        wait = 1000;
        if (!a.ok && a.keep) { tell(a, item.label); throw new Error("later"); }
        write(read().filter((x) => x.mark !== item.mark));
        tell(a, a.ok ? "" : item.label + " was not recorded");
        if (!a.ok && ![...document.querySelectorAll("[name=token]")].some((x) => x.value === item.mark)) refused(item.label + " (" + a.says + ")");
        release();
        if (a.ok) next = a.next || next;
        else next = "";
      }
    } catch (e) {
      online = e.message === "later";
      again = setTimeout(() => { busy = false; flush(); }, wait);
      wait = Math.min(2 * wait, 10000);
      state();
      return;
    } finally { busy = false; }
    state();
    if (next) load(next);
  };

  const release = () => document.querySelectorAll("button[aria-disabled]").forEach((b) => { b.removeAttribute("aria-disabled"); b.classList.remove("chosen"); });

  // load puts a page of this bench in place of this one, with what was told still standing.
  const load = async (to) => {
    try {
      const r = await fetch(to, { headers: { "Accept": "text/html" } });
      const page = new DOMParser().parseFromString(await r.text(), "text/html");
      const main = page.querySelector("main");
      if (!main) throw new Error("no page");
      $("main").replaceWith(document.adoptNode(main));
      document.title = page.title;
      if (location.pathname !== to) history.pushState(null, "", to);
      $("main").focus({ preventScroll: true });
      scrollTo(0, 0);
      tick();
      state();
      waiting();
    } catch { online = false; state(); again = setTimeout(() => load(to), 2000); }
  };
  const waiting = () => { if (document.querySelector("[data-wait]")) setTimeout(() => load("/"), 1500); };
  addEventListener("popstate", () => location.reload());

  document.addEventListener("submit", (e) => {
    const form = e.target, button = e.submitter;
    if (!form.dataset.keep) return;
    e.preventDefault();
    if (button && button.getAttribute("aria-disabled") === "true") return;
    const body = new URLSearchParams(new FormData(form, button)).toString();
    const mark = (body.match(/(?:^|&)token=([^&]*)/) || body.match(/(?:^|&)id=([^&]*)/) || [])[1] || String(Date.now());
    if (button && button.value === "check") { check(form, body); return; }
    form.querySelectorAll("button").forEach((b) => b.setAttribute("aria-disabled", "true"));
    if (button) button.classList.add("chosen");
    const list = read();
    if (!list.some((x) => x.mark === mark)) {
      const what = button && button.name !== "do" ? ", " + button.value : "";
      list.push({ mark, to: form.getAttribute("action"), body, label: form.dataset.keep + what });
      write(list);
    }
    flush();
  });

  // check asks without recording: it is not kept.
  const check = async (form, body) => {
    try { tell(await post({ to: form.getAttribute("action"), body })); scrollTo(0, 0); }
    catch { online = false; state(); }
  };

  // Timers run from the moment the server wrote down, whatever the phone did meanwhile.
  const rung = new Set();
  const tick = () => document.querySelectorAll(".left").forEach((p) => {
    const end = (Number(p.dataset.end) + Number(p.dataset.for)) * 1000;
    const s = Math.ceil((end - Date.now() - ahead) / 1000);
    const two = (n) => String(n).padStart(2, "0");
    const h = Math.floor(s / 3600), m = Math.floor(s / 60) % 60;
    const text = s <= 0 ? "done" : (h ? h + ":" + two(m) : m) + ":" + two(s % 60) + " to go";
    if (p.textContent !== text) p.textContent = text;
    if (s > 0 || rung.has(end)) return;
    rung.add(end);
    p.closest(".timer").classList.add("over");
    if (s > -5) { tell({ ok: true, says: p.previousElementSibling.textContent + ": time is up." }); if (navigator.vibrate) navigator.vibrate([300, 150, 300]); }
  });
  setInterval(tick, 500);
  document.addEventListener("visibilitychange", () => { if (!document.hidden) { tick(); flush(); news(); } });

  // What others recorded. The step itself is left alone: it must not move under a thumb.
  const news = async () => {
    if (!$("news")) return;
    try {
      const r = await fetch("/news", { headers: { "Accept": "text/html" } });
      known = r.status !== 401;
      if (!r.ok) throw new Error(r.status);
      const fresh = new DOMParser().parseFromString(await r.text(), "text/html").getElementById("news");
      const old = $("news");
      if (!fresh || !old) return;
      online = true;
      if (fresh.dataset.version !== old.dataset.version && !read().length) {
        old.replaceWith(document.adoptNode(fresh));
        if ($("moved") && !busy) $("moved").hidden = false;
      }
    } catch { online = false; }
    state();
  };
  let ear = null;
  const listen = () => {
    ear = new EventSource("/live");
    ear.addEventListener("here", () => { online = true; state(); flush(); news(); });
    ear.addEventListener("bin", () => setTimeout(news, 300));
    ear.onerror = () => {
      online = false;
      state();
      if (ear.readyState === EventSource.CLOSED) { ear = null; setTimeout(() => { news().then(listen); }, 10000); }
    };
  };
  addEventListener("online", flush);
  document.body.classList.add("scripted");
  listen();
  state();
  tick();
  refused();
  waiting();
  if (read().length) flush();
})();
