// The search: looks words up in the index that its page carries, and shows copies of the entries
// that have all of them. It asks for nothing from anywhere. Words are cut as builderlog cuts them.
"use strict";
(() => {
  const FIRST = 8, AT_ONCE = 20, LONGEST = 32, QUIET_MS = 250;
  const PLAIN = { "ß": "ss", "æ": "ae", "œ": "oe", "ø": "o", "đ": "d", "ð": "d", "þ": "th", "ł": "l", "ħ": "h", "ı": "i", "ς": "σ" };
  const UNSPACED = "\\u3040-\\u30ff\\u3400-\\u4dbf\\u4e00-\\u9fff\\uf900-\\ufaff";
  const SIGN = `(?:(?![${UNSPACED}])[\\p{L}\\p{N}])`;
  const WORD = new RegExp(`[${UNSPACED}]|${SIGN}+(?:[.,][0-9]${SIGN}*)*`, "gu");
  // The same over a text that is not folded: its signs above and below stay with their letters.
  const RAW = new RegExp(`[${UNSPACED}]|${SIGN}(?:(?![${UNSPACED}])[\\p{L}\\p{N}\\p{M}'’])*(?:[.,][0-9](?:(?![${UNSPACED}])[\\p{L}\\p{N}\\p{M}])*)*`, "gu");
  const DIGITS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz-_";
  const VALUE = new Map([...DIGITS].map((digit, value) => [digit, value]));
  const KINDS = ["area", "task", "note", "month", "part"];

  const apart = (text) => text.normalize("NFKD").toLowerCase().normalize("NFKD").replace(/\p{M}/gu, "")
    .replace(/[ßæœøđðþłħıς]/g, (sign) => PLAIN[sign]);
  const folded = (text) => (/^[\0-\x7f]*$/.test(text) ? text.toLowerCase() : apart(text))
    .replace(/([\p{L}\p{N}])['’](?=[\p{L}\p{N}])/gu, "$1");
  const wordsOf = (text) => (folded(text).match(WORD) || []).map((word) => [...word.replaceAll(",", ".")].slice(0, LONGEST).join(""));
  const part = (name) => document.querySelector(`[data-${name}]`);
  const field = () => part("search").querySelector("input");
  const made = (tag, words) => {
    const one = document.createElement(tag);
    one.textContent = words;
    return one;
  };

  // Read once for each index: a live page brings a new one.
  let book = null;
  function opened() {
    const index = document.getElementById("index");
    if (!book || book.index !== index) {
      const [words, steps] = index.content.textContent.split("\n").map((line) => line.split(" "));
      const entries = [...document.querySelectorAll("[data-entry]")].filter((one) => !part("found").contains(one));
      book = { index, words, steps, entries, numbers: new Map(), heads: new Map() };
    }
    return book;
  }
  function numbersOf(at) {
    let numbers = book.numbers.get(at);
    if (!numbers) {
      numbers = [];
      let last = -1, step = 0;
      for (const digit of book.steps[at]) {
        const value = VALUE.get(digit);
        step = step * 32 + value % 32;
        if (value < 32) {
          last += step + 1;
          numbers.push(last);
          step = 0;
        }
      }
      book.numbers.set(at, numbers);
    }
    return numbers;
  }
  function firstAt(start) {
    let low = 0, high = book.words.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (book.words[middle] < start) low = middle + 1;
      else high = middle;
    }
    return low;
  }
  // The entries with a word that begins so, each with the first few of these words.
  function having(start) {
    const found = new Map();
    for (let at = firstAt(start); at < book.words.length && book.words[at].startsWith(start); at++) {
      for (const number of numbersOf(at)) {
        const words = found.get(number);
        if (!words) found.set(number, [book.words[at]]);
        else if (words.length < 3) words.push(book.words[at]);
      }
    }
    return found;
  }
  const begins = (words, start) => words.some((word) => word.startsWith(start));
  // The words of an entry's own name, each after a blank.
  function headOf(number) {
    let head = book.heads.get(number);
    if (head === undefined) {
      head = ` ${wordsOf(book.entries[number].querySelector("a").parentElement.textContent).join(" ")}`;
      book.heads.set(number, head);
    }
    return head;
  }
  // Those that are called so come first, and among them what many notes are about.
  function rankOf(number, asked) {
    const named = asked.every((start) => headOf(number).includes(` ${start}`));
    return KINDS.indexOf(book.entries[number].dataset.entry) + (named ? 0 : KINDS.length);
  }
  // Whoever comes to the field will write: what the first key needs is made before, bit by bit.
  function ready() {
    const { entries, words } = opened();
    let entry = 0, word = 0;
    const step = () => {
      for (const stop = Math.min(entry + 50, entries.length); entry < stop; entry++) headOf(entry);
      for (const stop = Math.min(word + 1000, words.length); word < stop; word++) numbersOf(word);
      if (entry < entries.length || word < words.length) setTimeout(step);
      else if (entry) shown(0, ["e"], [having("e")]);
    };
    setTimeout(step);
  }

  function marked(entry, asked) {
    const texts = document.createTreeWalker(entry, NodeFilter.SHOW_TEXT);
    const nodes = [];
    while (texts.nextNode()) nodes.push(texts.currentNode);
    for (const node of nodes) {
      const pieces = [];
      let from = 0;
      for (const match of node.data.matchAll(RAW)) {
        const words = wordsOf(match[0]);
        if (!asked.some((start) => begins(words, start))) continue;
        pieces.push(node.data.slice(from, match.index), made("mark", match[0]));
        from = match.index + match[0].length;
      }
      if (pieces.length) node.replaceWith(...pieces, node.data.slice(from));
    }
  }
  // A copy of an entry with what was found in it; words that it does not show itself are named, and
  // its link leads to the first of them where a browser knows how.
  function shown(number, asked, found) {
    const entry = book.entries[number].cloneNode(true);
    const seen = wordsOf(entry.textContent);
    const away = asked.flatMap((start, at) => begins(seen, start) ? [] : found[at].get(number) || []);
    marked(entry, asked);
    if (away.length) {
      const line = made("p", "Found by: ");
      line.className = "found-inside";
      [...new Set(away)].forEach((word, at) => line.append(at ? ", " : "", made("mark", word)));
      entry.append(line);
      const link = entry.querySelector("a");
      if (!link.hash) link.href += `#:~:text=${encodeURIComponent(away[0]).replaceAll("-", "%2D")}`;
    }
    return entry;
  }

  function told(numbers) {
    const counts = new Map();
    for (const number of numbers) {
      const kind = book.entries[number].dataset.entry;
      counts.set(kind, (counts.get(kind) || 0) + 1);
    }
    return KINDS.filter((kind) => counts.has(kind)).map((kind) => `${counts.get(kind)} ${kind}${counts.get(kind) === 1 ? "" : "s"}`).join(", ");
  }
  const linked = (shown, words = shown) => {
    const link = made("a", shown);
    link.href = `#?${encodeURIComponent(words)}`;
    return link;
  };
  // Why nothing was found, and what to ask for instead.
  function hint(asked, found) {
    const line = document.createDocumentFragment();
    const known = asked.filter((_start, at) => found[at].size);
    const unknown = asked.find((_start, at) => !found[at].size);
    if (unknown === undefined) {
      line.append("Nothing has all of these words. Alone: ");
      asked.forEach((start, at) => line.append(at ? ", " : "", linked(start), ` (${found[at].size})`));
      return line;
    }
    line.append(`Nothing has a word that begins with “${unknown}”.`);
    const near = nearest(unknown);
    if (near) line.append(" There is ", linked(near, asked.map((start) => start === unknown ? near : start).join(" ")), ".");
    if (known.length) line.append(" Without it: ", linked(known.join(" ")), ".");
    if (!near && !known.length) line.append(" Fewer letters find more.");
    return line;
  }
  // The word that begins most like the one that is not there.
  function nearest(asked) {
    for (let length = asked.length - 1; length >= Math.min(3, asked.length - 1) && length > 0; length--) {
      const word = book.words[firstAt(asked.slice(0, length))];
      if (word && word.startsWith(asked.slice(0, length))) return word;
    }
    return "";
  }

  let saying = 0;
  function say(what) {
    clearTimeout(saying);
    saying = setTimeout(() => part("told").replaceChildren(what), QUIET_MS);
  }
  let wanted = "", numbers = [], asked = [], found = [];
  function search(words) {
    opened();
    wanted = words;
    asked = [...new Set(wordsOf(words))];
    part("everything").hidden = asked.length > 0;
    found = asked.map(having);
    numbers = [];
    if (asked.length) {
      const fewest = found.reduce((one, other) => other.size < one.size ? other : one);
      numbers = [...fewest.keys()].filter((number) => found.every((each) => each.has(number)));
      const rank = new Map(numbers.map((number) => [number, rankOf(number, asked)]));
      numbers.sort((one, other) => rank.get(one) - rank.get(other) || one - other);
    }
    part("found").replaceChildren();
    more(FIRST);
    const those = numbers;
    setTimeout(() => those === numbers && more(AT_ONCE - FIRST)); // the reader sees the first before
    say(!asked.length ? "" : numbers.length ? `Found: ${told(numbers)}.` : hint(asked, found));
  }
  function more(many) {
    const list = part("found");
    const from = list.children.length;
    list.append(...numbers.slice(from, from + many).map((number) => shown(number, asked, found)));
    document.getElementById("found-more")?.remove();
    if (list.children.length >= AT_ONCE && list.children.length < numbers.length) {
      const button = made("button", `Show all ${numbers.length}`);
      button.id = "found-more";
      button.type = "button";
      list.after(button);
    }
  }

  // The words stand in the address, so that a search can be linked and Back finds it again.
  let keeping = 0;
  function keep() {
    clearTimeout(keeping);
    const words = field().value.trim();
    const hash = words ? `#?${encodeURIComponent(words)}` : "";
    if (asIn(location.hash) !== words) history.replaceState(null, "", hash || location.pathname + location.search);
  }
  function asIn(hash) {
    let words = hash.slice(1);
    if (!words.startsWith("?") && document.getElementById(words)) return ""; // a place on the page
    words = words.replace(/^\?/, "").replaceAll("+", " ");
    try {
      return decodeURIComponent(words);
    } catch {
      return words;
    }
  }
  function begin() {
    if (!part("search")) return;
    part("search").hidden = false;
    // What the browser kept in the field when it came back to the page counts least.
    const words = wanted || asIn(location.hash) || field().value;
    if (!words) return;
    field().value = words;
    search(words);
  }

  const inField = (event) => event.target === part("search")?.querySelector("input");
  document.addEventListener("focusin", (event) => inField(event) && ready());
  document.addEventListener("input", (event) => {
    if (!inField(event)) return;
    search(event.target.value);
    clearTimeout(keeping);
    keeping = setTimeout(keep, 400);
  });
  document.addEventListener("keydown", (event) => {
    if (!inField(event)) return;
    if (event.key === "Escape" && event.target.value) {
      event.target.value = "";
      search("");
      keep();
    } else if (event.key === "Enter") {
      keep();
      if (matchMedia("(pointer: coarse)").matches) event.target.blur(); // its keyboard covers what was found
    }
  });
  document.addEventListener("click", (event) => {
    if (event.target.id === "found-more") {
      const next = part("found").children.length;
      more(numbers.length);
      part("found").children[next].querySelector("a").focus();
    } else if (part("found")?.contains(event.target)) {
      keep();
    }
  });
  addEventListener("hashchange", () => {
    const words = asIn(location.hash);
    if (part("search") && words && words !== field().value) {
      field().value = words;
      search(words);
    }
  });
  document.addEventListener("exchanged", begin); // the bench has put a new page in the old one's place
  begin();
})();
