// The bench's first page while it is open: panels follow the journal, the form is left alone.
"use strict";
(() => {
  const live = document.getElementById("live");
  let asked = 0;

  // What was folded out stays so, and whoever stands in a panel with the keyboard stays there.
  function exchange(old, fresh) {
    if (old.innerHTML === fresh.innerHTML) return;
    const folds = new Map([...old.querySelectorAll("[data-fold]")].map((one) => [one.dataset.fold, one.open]));
    for (const one of fresh.querySelectorAll("[data-fold]")) {
      if (folds.has(one.dataset.fold)) one.open = folds.get(one.dataset.fold);
    }
    const stops = (within) => [...within.querySelectorAll("a, button, summary, input")];
    const at = stops(old).indexOf(document.activeElement);
    old.replaceChildren(...fresh.childNodes);
    old.className = fresh.className;
    if (at >= 0) (stops(old)[at] ?? stops(old).at(-1))?.focus();
  }
  async function refresh() {
    const mine = ++asked;
    const answer = await fetch("/parts", { cache: "no-store" }).catch(() => null);
    if (!answer?.ok || mine !== asked) return;
    const made = new DOMParser().parseFromString(await answer.text(), "text/html");
    for (const fresh of made.querySelectorAll("[data-panel]")) {
      const old = document.getElementById(fresh.id);
      if (old) exchange(old, fresh);
      else document.querySelector(".beside")?.append(fresh);
    }
    for (const old of document.querySelectorAll("[data-panel]")) {
      if (!made.getElementById(old.id)) old.remove();
    }
    tick();
    const inbox = [...made.querySelectorAll("[data-inbox]")].map((one) => ({ ...one.dataset }));
    document.dispatchEvent(new CustomEvent("inbox", { detail: inbox }));
  }

  // ---- the clock
  function tick() {
    for (const one of document.querySelectorAll("[data-since]")) {
      const minutes = Math.max(0, Math.floor((Date.now() - new Date(one.dataset.since)) / 60000));
      const hours = Math.floor(minutes / 60);
      one.textContent = [hours ? `${hours}\u00a0h` : "", minutes % 60 || !hours ? `${minutes % 60}\u00a0min` : ""].filter(Boolean).join("\u00a0");
    }
  }
  setInterval(tick, 20000);
  tick();

  // ---- events
  let timer = 0;
  const soon = () => {
    clearTimeout(timer);
    timer = setTimeout(refresh, 80);
  };
  let events = null;
  function listen() {
    events = new EventSource("/events");
    for (const kind of ["front", "problems", "site"]) events.addEventListener(kind, soon);
    events.addEventListener("open", () => {
      live.textContent = "Live";
      live.classList.remove("off");
    });
    events.addEventListener("error", () => {
      live.textContent = "The bench does not answer";
      live.classList.add("off");
    });
  }
  // A browser keeps few connections to one place: a page that nobody sees gives its own back.
  let parting = 0;
  document.addEventListener("visibilitychange", () => {
    clearTimeout(parting);
    if (document.visibilityState === "hidden") {
      parting = setTimeout(() => {
        events.close();
      }, 60000);
    } else if (events.readyState === EventSource.CLOSED) {
      listen();
    }
  });
  listen();
  addEventListener("pagehide", () => events.close());
  addEventListener("pageshow", (event) => event.persisted && location.reload());
})();
