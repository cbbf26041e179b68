// Pictures shown large, one after the other, over the page that has them. Without this script the
// same links lead to the large pictures. Nothing is asked of the page but links that carry the
// size of what they lead to, `<a href data-large="1600 1200">`, best in a figure with a caption.
"use strict";
(() => {
  if (!window.HTMLDialogElement) return;

  // Not in the head of the page: nothing that a page shows at first waits for it.
  const style = document.createElement("link");
  style.rel = "stylesheet";
  style.href = new URL("viewer.css", document.currentScript.src);
  const styled = new Promise((done) => { style.onload = style.onerror = done; });
  document.head.append(style);

  const made = (tag, name, words = "") => {
    const one = document.createElement(tag);
    one.className = name;
    one.textContent = words;
    return one;
  };
  const button = (name, words, act) => {
    const one = made("button", name, words);
    one.type = "button";
    one.addEventListener("click", act);
    return one;
  };
  const dialog = made("dialog", "viewer");
  const figure = made("figure", "viewer-plate");
  const caption = made("figcaption", "viewer-words");
  const place = made("p", "viewer-place");
  const ways = made("div", "viewer-ways");
  const before = button("viewer-before", "Before", () => step(-1));
  const after = button("viewer-after", "After", () => step(1));
  const close = button("viewer-close", "Close", () => dialog.close());
  dialog.setAttribute("aria-label", "Pictures");
  for (const told of [caption, place]) told.setAttribute("aria-live", "polite");
  ways.append(place, before, after, close);
  figure.append(new Image(), caption);
  dialog.append(figure, ways);

  let links = [];
  let at = 0;

  // A link amid words leads to the picture where it is shown, if the page shows it.
  function found() {
    const all = [...document.querySelectorAll("main a[data-large]")];
    const shown = new Set(all.filter((one) => one.querySelector("img")).map((one) => one.href));
    return all.filter((one) => one.querySelector("img") || !shown.has(one.href));
  }
  // Of the picture, not of its place: it stays when pictures are added.
  const hash = (link) => `#picture-${/([^/]+?)(-\d+)?\.\w+$/.exec(link.pathname)[1]}`;

  function words(link) {
    const there = link.closest("figure")?.querySelector("figcaption");
    if (there) return [...there.childNodes].map((node) => node.cloneNode(true));
    return [link.querySelector("img")?.alt || link.textContent];
  }

  function draw() {
    const link = links[at];
    const [width, height] = link.dataset.large.split(" ").map(Number);
    const small = link.querySelector("img");
    const image = new Image(width, height);
    image.alt = small ? small.alt : link.textContent.trim();
    image.style.maxWidth = `${width}px`;
    if (small) image.style.backgroundImage = `url("${small.currentSrc || small.src}")`;
    // What has come is not at once ready to be painted.
    const ready = () => { image.style.backgroundImage = "none"; };
    image.addEventListener("load", () => image.decode().then(ready, ready));
    image.src = link.href;
    caption.replaceChildren(...words(link));
    place.textContent = `${at + 1} of ${links.length}`;
    figure.firstChild.replaceWith(image);
    before.setAttribute("aria-disabled", at === 0);
    after.setAttribute("aria-disabled", at === links.length - 1);
    place.hidden = before.hidden = after.hidden = links.length < 2;
    // Whoever pays for what they load does not load what they may never look at.
    const ahead = navigator.connection?.saveData ? [] : [links[at + 1], links[at - 1]];
    for (const next of ahead) if (next) new Image().src = next.href;
    dialog.scrollTop = 0;
  }

  function open(index) {
    at = index;
    draw();
    if (dialog.open) return;
    document.body.append(dialog);
    styled.then(() => {
      if (!dialog.isConnected || dialog.open) return;
      dialog.showModal();
      close.focus();
    });
  }

  function go(index) {
    if (index < 0 || index >= links.length || index === at) return;
    at = index;
    draw();
    history.replaceState(history.state, "", hash(links[at]));
  }
  const step = (by) => go(at + by);

  // Back closes the viewer, and its address opens it again.
  function follow() {
    const all = found();
    const index = all.findIndex((one) => hash(one) === location.hash);
    if (index < 0) {
      if (dialog.open) dialog.close();
    } else if (!dialog.open) {
      links = all;
      open(index);
    }
  }
  addEventListener("popstate", follow);

  dialog.addEventListener("close", () => {
    const link = links[at];
    const there = link.isConnected ? link : found().find((one) => one.href === link.href);
    if (history.state?.viewer) history.back();
    else if (location.hash === hash(link)) history.replaceState(null, "", location.pathname + location.search);
    there?.focus({ preventScroll: true });
    there?.scrollIntoView({ block: "nearest", behavior: "instant" });
  });

  // On the document, for the page's main part may be exchanged under it.
  document.addEventListener("click", (event) => {
    if (event.button || event.ctrlKey || event.metaKey || event.shiftKey || event.altKey) return;
    const link = event.target.closest("main a[data-large]");
    if (!link) return;
    event.preventDefault();
    links = found();
    const index = links.includes(link) ? links.indexOf(link) : links.findIndex((one) => one.href === link.href);
    history.pushState({ viewer: true }, "", hash(links[index]));
    open(index);
  });
  // The element of a picture fills the room there is; the picture stands in its middle.
  function beside(event) {
    const { left, top, width, height } = figure.firstChild.getBoundingClientRect();
    const [wide, high] = links[at].dataset.large.split(" ").map(Number);
    const scale = Math.min(width / wide, height / high) / 2;
    return Math.abs(event.clientX - left - width / 2) > wide * scale || Math.abs(event.clientY - top - height / 2) > high * scale;
  }
  dialog.addEventListener("click", (event) => {
    if (event.target === figure || (event.target === figure.firstChild && beside(event))) dialog.close();
  });

  const keys = {
    ArrowLeft: () => step(-1),
    ArrowRight: () => step(1),
    Home: () => go(0),
    End: () => go(links.length - 1),
  };
  dialog.addEventListener("keydown", (event) => {
    if (event.ctrlKey || event.metaKey || event.altKey || !keys[event.key]) return;
    event.preventDefault();
    keys[event.key]();
  });

  // A finger drawn across turns to the next picture; two fingers enlarge, and then one moves it.
  let from = null;
  const zoomed = () => (window.visualViewport?.scale ?? 1) > 1.05;
  window.visualViewport?.addEventListener("resize", () => dialog.classList.toggle("zoomed", zoomed()));
  figure.addEventListener("pointerdown", (event) => {
    if (event.pointerType === "mouse") return;
    from = event.isPrimary && !zoomed() ? event : null;
  });
  figure.addEventListener("pointercancel", () => { from = null; });
  figure.addEventListener("pointerup", (event) => {
    if (!from || event.pointerId !== from.pointerId) return;
    const [x, y] = [event.clientX - from.clientX, event.clientY - from.clientY];
    from = null;
    if (Math.abs(x) > 40 && Math.abs(x) > 2 * Math.abs(y)) step(x < 0 ? 1 : -1);
  });

  follow();
})();
