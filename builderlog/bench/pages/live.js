// A page of the live site: its main part is exchanged when the bench has drawn it anew, the page
// of a note that was saved is shown by itself, and mistakes stand over the last good page.
"use strict";
(() => {
  const over = document.createElement("aside");
  over.id = "bench-over";
  over.setAttribute("role", "region");
  over.setAttribute("aria-label", "From the bench");
  over.setAttribute("aria-live", "polite");
  document.body.append(over);

  // Whoever reads another page meanwhile can stay there.
  const STAY = "stay on this page";
  const follow = document.createElement("button");
  follow.type = "button";
  const follows = () => sessionStorage.getItem(STAY) === null;
  const tellFollow = () => {
    follow.textContent = follows() ? "Live: follows what you save" : "Live: stays on this page";
    follow.setAttribute("aria-pressed", String(follows()));
  };
  follow.addEventListener("click", () => {
    if (follows()) sessionStorage.setItem(STAY, "yes");
    else sessionStorage.removeItem(STAY);
    tellFollow();
  });
  tellFollow();
  const back = document.createElement("a");
  back.href = "/";
  back.textContent = "To the bench";
  const bar = document.createElement("aside");
  bar.id = "bench-bar";
  bar.setAttribute("aria-label", "Live");
  bar.append(back, follow);
  document.body.append(bar);
  const here = decodeURIComponent(location.pathname.replace(/^\/site\//, "")) || "index.html";
  let mistakes = [];
  let folded = "";
  let word = "";

  const made = (tag, words, name = "") => {
    const one = document.createElement(tag);
    one.textContent = words;
    if (name) one.className = name;
    return one;
  };
  function show() {
    const key = JSON.stringify(mistakes);
    if (!word && (!mistakes.length || folded === key)) {
      over.replaceChildren();
      return;
    }
    const head = document.createElement("div");
    head.className = "bench-head";
    const many = `${mistakes.length} mistake${mistakes.length === 1 ? "" : "s"} in the journal; this is the last good page.`;
    head.append(made("p", mistakes.length ? many : word));
    const fold = made("button", "Put away");
    fold.type = "button";
    fold.addEventListener("click", () => {
      folded = key;
      word = "";
      show();
    });
    head.append(fold);
    const list = document.createElement("ul");
    for (const one of mistakes) {
      const row = document.createElement("li");
      row.append(made("p", one.message), made("p", `${one.path}, line ${one.line}, column ${one.column}`, "bench-place"));
      list.append(row);
    }
    over.replaceChildren(head, ...(mistakes.length ? [list] : []));
    if (mistakes.length && word) over.append(made("p", word));
  }

  async function exchange() {
    const answer = await fetch(location.pathname, { cache: "no-store" }).catch(() => null);
    if (!answer) return;
    if (!answer.ok) {
      word = "This page is not part of the site any more.";
      show();
      return;
    }
    const fresh = new DOMParser().parseFromString(await answer.text(), "text/html");
    const [old, main] = [document.querySelector("main"), fresh.querySelector("main")];
    const open = [...document.querySelectorAll("details")].map((one) => one.open);
    const held = document.activeElement?.id;
    if (old && main) old.replaceWith(document.adoptNode(main));
    else document.body.replaceChildren(...fresh.body.childNodes, over, bar);
    document.querySelectorAll("details").forEach((one, at) => { one.open = open[at] ?? one.open; });
    document.title = fresh.title;
    document.dispatchEvent(new Event("exchanged")); // for the page's own scripts
    const there = new Set([...document.scripts].map((script) => script.src));
    for (const { src } of fresh.querySelectorAll("head script[src]")) { // the first picture needs one
      if (!there.has(src)) document.head.append(Object.assign(document.createElement("script"), { src }));
    }
    if (held) document.getElementById(held)?.focus({ preventScroll: true });
    word = "";
    show();
  }
  function restyle(changed) {
    for (const link of document.querySelectorAll("link[rel=stylesheet]")) {
      const url = new URL(link.href);
      const path = decodeURIComponent(url.pathname.replace(/^\/site\//, ""));
      if (changed.includes(path)) {
        url.searchParams.set("at", Date.now());
        link.href = url;
      }
    }
  }
  let events = null;
  let lost = false;
  function listen() {
    events = new EventSource("/events");
    events.addEventListener("site", drawn);
    events.addEventListener("problems", told);
    events.addEventListener("open", () => {
      if (lost) exchange(); // what was drawn while nobody listened
      lost = false;
      tellFollow();
    });
    events.addEventListener("error", () => {
      lost = true;
      follow.textContent = "The bench does not answer";
    });
  }
  function drawn(event) {
    const { changed = [], page = null } = JSON.parse(event.data);
    restyle(changed);
    if (page && page !== here && follows()) {
      location.assign(`/site/${page.split("/").map(encodeURIComponent).join("/")}`);
      return;
    }
    if (changed.includes(here)) exchange();
  }
  function told(event) {
    mistakes = JSON.parse(event.data).filter((one) => one.weight === "mistake");
    if (JSON.stringify(mistakes) !== folded) folded = "";
    show();
  }
  // A browser keeps few connections to one place: a page that nobody sees gives its own back.
  let parting = 0;
  document.addEventListener("visibilitychange", () => {
    clearTimeout(parting);
    if (document.visibilityState === "hidden") {
      parting = setTimeout(() => {
        events.close();
        lost = true;
      }, 60000);
    } else if (events.readyState === EventSource.CLOSED) {
      listen();
    }
  });
  listen();
  addEventListener("pagehide", () => events.close());
  addEventListener("pageshow", (event) => event.persisted && location.reload());
})();
