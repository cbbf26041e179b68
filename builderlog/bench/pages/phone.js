// The code that came with the square: behind the # of the address, which no server is told.
"use strict";
(() => {
  const form = document.getElementById("code-form");
  const take = () => {
    const found = /^#(?:code=)?([\w-]+)$/.exec(location.hash);
    if (!found) return;
    history.replaceState(null, "", location.pathname);
    form.elements.code.value = found[1];
    form.requestSubmit();
  };
  addEventListener("hashchange", take);
  take();
})();
