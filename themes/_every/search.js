// The search: looks words up in the index that its page carries, and shows copies of the entries
// that have all of them. Words are cut as builderlog cuts them.
"use strict";
(() => {
	const FIRST = 8, AT_ONCE = 20, LONGEST = 32, QUIET_MS = 250;
	const PLAIN = "ßss æae œoe đd ðd þth łl ħh ıi ςσ ’' ‐-".split(" ");
	const SPELLED = "äae öoe üue åaa øoe";
	const UNSPACED = String.raw`\u0e00-\u0eff\u1000-\u109f\u1780-\u17ff\u3040-\u30ff\u3400-\u4dbf\u4e00-\u9fff\uf900-\ufaff`;
	const HAN = /[\u3400-\u9fff\uf900-\ufaff]/; // each a word; of other such writing each two are
	const SIGNS = String.raw`(?:(?![${UNSPACED}])[\p{L}\p{N}]\p{M}*)+`;
	const WORD = `${SIGNS}(?:['’]${SIGNS})*(?:[.,](?=[0-9])${SIGNS})*`;
	const RUN = new RegExp(String.raw`((?:(?=[\p{L}\p{N}])[${UNSPACED}]\p{M}*)+)|${WORD}(?:[-‐‑]${WORD})*`, "gu");
	const DIGITS = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz-_";
	const KINDS = ["area", "task", "note", "month", "part"];

	const folded = (text) => text.normalize("NFKD").toLowerCase().normalize("NFKD")
		.replace(/([aou]\u0308|a\u030a)|\p{M}/gu, (_, kept = "") => kept.normalize("NFC"))
		.replace(/[^\0-\x7f]/g, (sign) => PLAIN.find((one) => one[0] === sign)?.slice(1) ?? sign);
	const tidy = (word) => [...word.replaceAll("'", "").replaceAll(",", ".")].slice(0, LONGEST).join("");
	// The words of a text in order, and what else finds it: parts run together, "l'aile" as "aile".
	function cut(text) {
		const words = [], also = [];
		for (const [run, unspaced] of folded(text).matchAll(RUN)) {
			const parts = unspaced ? [...run].map((sign, at, signs) => HAN.test(sign + (signs[at + 1] || "一")) ? sign : sign + signs[at + 1]) : run.split("-");
			if (unspaced) parts.forEach((pair, at) => (pair[1] || !parts[at - 1]?.[1] ? words : also).push(pair));
			else {
				words.push(...parts.map(tidy));
				if (parts[1] && /[^-\d.,]/.test(run)) also.push(tidy(parts.join("").replace(/[.,]/g, "")));
				for (const part of parts) also.push(...part.split("'").slice(1).slice(-1).filter((elided) => elided[2]));
			}
		}
		return { words, also };
	}
	const isTwoWays = (word) => /[äöüåø]/.test(word);
	const forms = (word) => isTwoWays(word) ? [1, 2].map((most) => word.replace(/[äöüåø]/g, (sign) => SPELLED.split(sign)[1].slice(0, most))) : [word];
	const line = (words) => ` ${words.flatMap(forms).join(" ")} `;
	const isLong = (start) => /^\d{3}|.{4}/.test(start); // and so is looked for inside of words too
	const has = (said, word) => forms(word).some((start) => said.includes(isLong(start) ? start : ` ${start}`));
	const part = (name) => document.querySelector(`[data-${name}]`);
	const field = () => document.querySelector("#words");
	const on = (name, act) => document.addEventListener(name, act);
	const hashOf = (words) => words && `#?${encodeURIComponent(words)}`;
	const made = (tag, words, more) => Object.assign(document.createElement(tag), { textContent: words }, more);

	// Read once for each index: a live page brings a new one. `known`: each way to write a word, its place.
	let book = null;
	function opened() {
		const index = document.getElementById("index");
		if (book?.index === index) return;
		const [words, steps] = index.content.textContent.split("\n").map((each) => each.split(" "));
		const entries = [...document.querySelectorAll("[data-everything] [data-entry]")];
		const known = words.flatMap((word, at) => forms(word).map((form) => ({ form, at })));
		book = { index, words, steps, entries, known, numbers: [], said: [] };
	}
	const begins = (start) => book.known.some(({ form }) => form.startsWith(start));
	function numbersOf(at) {
		let last = -1;
		return book.numbers[at] ||= book.steps[at].match(/[W-Za-z_-]*[0-9A-V]/g)
			.map((step) => last += [...step].reduce((sum, digit) => sum * 32 + DIGITS.indexOf(digit) % 32, 0) + 1);
	}
	// By entry, which of its words are so (fit 2), begin so (1), or have it inside (0).
	function having(asked) {
		const found = [];
		for (const start of forms(asked)) {
			const inside = isLong(start);
			for (const { form, at } of book.known) {
				const fit = form.startsWith(start) ? 1 + (form === start) : inside && form.includes(start) ? 0 : -1;
				if (fit >= 0) for (const number of numbersOf(at)) {
					const one = found[number] ||= { fit: -1, words: [] };
					if (fit > one.fit) one.words.unshift(book.words[at]);
					else if (!one.words[2]) one.words.push(book.words[at]);
					one.fit = Math.max(one.fit, fit);
				}
			}
		}
		return found;
	}
	// The words of an entry's name, and of all its lines, each after a blank.
	const saidOf = (number) => book.said[number] ||= [book.entries[number].querySelector("a").parentElement, book.entries[number]].map((one) => {
		const { words, also } = cut(one.textContent);
		return line(words.map((word) => forms(word)[0])) + line([...also, ...words.filter(isTwoWays)]);
	});
	// The entries that have all words. What is called so comes first, then what says it so in its lines.
	function matched(asked) {
		const each = asked.map(having), plain = asked.map((word) => forms(word)[0]);
		const phrase = ` ${plain.join(" ")}`, pairs = plain.slice(1).flatMap((word, at) => [` ${plain[at]} ${word}`, ` ${word} ${plain[at]}`]);
		return book.entries.flatMap((entry, number) => {
			if (!each.every((found) => found[number])) return [];
			const fit = Math.min(...each.map((found) => found[number].fit)), [name, all] = saidOf(number);
			const named = asked.filter((word) => has(name, word)).length, isNamed = named === asked.length;
			const score = [
				fit > 0, isNamed, name.startsWith(phrase), name.includes(phrase), plain.every((word) => name.includes(` ${word} `) || name.includes(` ${word}s `)),
				all.includes(phrase), pairs.some((words) => all.includes(words)), named > 1, named > 0, isNamed || fit > 1,
			].reduce((sum, mark) => sum * 2 + mark, 0);
			return [{ number, asked, each, fit, score, kind: KINDS.indexOf(entry.dataset.entry) }];
		});
	}
	// Each entry as one of the readings finds it best.
	function best(readings) {
		const found = new Map();
		for (const one of readings.flatMap(matched)) if (!(found.get(one.number)?.score >= one.score)) found.set(one.number, one);
		return [...found.values()].sort((one, other) => other.score - one.score || one.kind - other.kind || one.number - other.number);
	}
	const asking = (text) => [...new Set(cut(text.replace(/(\d)(st|nd|rd|th)\b/gi, "$1")).words)];
	// A day or a month in numbers.
	function days(text) {
		const [, one, , other, last = ""] = /^(\d+)([-./])(\d+)(?:\2(\d+))?$/.exec(text) || [];
		return (one?.[3] ? [[last, other, one]] : last[3] ? [[one, other, last], [other, one, last]] : []).filter(([, month]) => month > 0 && month < 13)
			.map(([day, month, year]) => asking(`${+day || ""} ${new Date(2000, month - 1).toLocaleString("en", { month: "long" })} ${year}`));
	}
	// Two words may be one ("bulk head", "ad4-6"), and "W5" is W05.
	function readings(asked) {
		const joined = asked.slice(1).map((word, at) => [at, 2, asked[at] + word]).filter(([, , word]) => /\D/.test(word) && (/\d/.test(word) || begins(word)));
		const numbered = asked.map((word, at) => [at, 1, word.replace(/^(\p{L}+)(?=\d$)/u, "$10")]).filter(([at, , word]) => word !== asked[at]);
		return [asked, ...[...joined, ...numbered].map(([at, count, word]) => [...asked.slice(0, at), word, ...asked.slice(at + count)])];
	}

	// Whoever comes to the field will write: what the first key needs is made before.
	function ready(from = 0) {
		opened();
		const stop = Math.min(from + 25, book.entries.length);
		for (let entry = from; entry < stop; entry++) saidOf(entry);
		for (let at = from * 20; at < stop * 20; at++) if (book.words[at]) numbersOf(at);
		if (stop > from) setTimeout(ready, 0, stop);
		else best([["e"]]).slice(0, 1).map(shown);
	}

	function marked(entry, asked) {
		const is = (word) => asked.some((each) => has(line([word]), each));
		const some = (raw, words) => words.some(is) ? made("mark", raw) : raw;
		const pieces = (raw, unspaced) => {
			const { words, also } = cut(raw);
			if (unspaced) {
				const signs = raw.match(/\P{M}\p{M}*/gu), pair = (at) => cut((signs[at] || "") + (signs[at + 1] || "")).words[0];
				return signs.map((sign, at) => pair(at - 1)[1] && asked.includes(pair(at - 1)) ? made("mark", sign) : some(sign, [pair(at)]));
			}
			return words[1] && words.some(is) ? raw.split(/([-‐‑])/).map((each) => some(each, cut(each).words)) : [some(raw, [...words, ...also])];
		};
		for (const node of [...entry.querySelectorAll("*")].flatMap((one) => [...one.childNodes]).filter(({ data }) => data)) {
			let from = 0;
			const all = [...node.data.matchAll(RUN)].flatMap((match) => {
				const before = node.data.slice(from, match.index);
				from = match.index + match[0].length;
				return [before, ...pieces(...match)];
			});
			if (all.some((piece) => piece.tagName)) node.replaceWith(...all, node.data.slice(from));
		}
	}
	// A copy of an entry, marked; words that it does not show are named, its link leads to one.
	function shown({ number, asked, each }) {
		const entry = book.entries[number].cloneNode(true), link = entry.querySelector("a");
		const away = asked.flatMap((word, at) => has(saidOf(number)[1], word) ? [] : each[at][number].words.slice(0, 3));
		marked(entry, asked);
		if (away.length) {
			const by = made("p", "Found by: ", { className: "found-inside" });
			[...new Set(away)].forEach((word, at) => by.append(at ? ", " : "", made("mark", word)));
			entry.append(by);
			if (!link.hash) link.href += `#:~:text=${encodeURIComponent(away[0]).replaceAll("-", "%2D")}`;
		}
		return entry;
	}

	const told = (heading, some) => some[0] ? ` ${heading}: ${KINDS.map((kind, at) => [some.filter((one) => one.kind === at).length, kind])
		.filter(([count]) => count).map(([count, kind]) => `${count} ${kind}${count > 1 ? "s" : ""}`).join(", ")}.` : "";
	const summed = (all) => told("Found", all.filter(({ fit }) => fit)) + told("Inside longer words", all.filter(({ fit }) => !fit));
	// In place of a word that nothing has: two words, a slip of the finger, fewer letters.
	function instead(asked) {
		const ways = [...asked].map((letter, at) => [asked.slice(0, at), letter, asked.slice(at + 1)]);
		const split = ways.map(([one, ...other]) => [one, other.join("")])
			.find((two) => two.every((word) => word[/\d/.test(asked) ? 0 : 2] && begins(word)) && best([two])[0]);
		const near = RegExp(`^(${ways.map(([one, letter, other]) => `${one}(.?${other}|.${letter}${other}|${other[0]}${letter}${other.slice(1)})`).join("|")})`);
		const words = /\D{2}/.test(asked) && isLong(asked) ? book.known.filter(({ form }) => near.test(form)) : [];
		const far = ({ form, at }) => Math.abs(form.length - asked.length) - numbersOf(at).length / 1e4;
		let fewer = asked;
		while (fewer && !begins(fewer)) fewer = fewer.slice(0, -1);
		return [split, ...words.sort((one, other) => far(one) - far(other)).slice(0, 3).map(({ form }) => [form]), fewer.length >= Math.max(4, asked.length * 0.6) && [fewer]].filter(Boolean);
	}
	function helped(asked) {
		const lost = asked.findIndex((word) => !having(word).length), said = document.createDocumentFragment();
		const others = lost < 0 ? asked.map((word) => [word]) : [...instead(asked[lost]), ...asked[1] ? [[]] : []]
			.map((words) => asked.flatMap((word, at) => at === lost ? words : [word]));
		const all = lost < 0 ? [] : best(others.slice(0, 1));
		said.append(lost < 0 ? "Nothing has all these words." : `Nothing has a word that begins with “${asked[lost]}”.`);
		if (all[0]) said.append(` Here is “${others.shift().join(" ")}”.${summed(all)}`);
		others.forEach((words, at) => said.append(at ? ", " : " Try: ", made("a", words.join(" "), { href: hashOf(words.join(" ")) })));
		said.append(others[0] ? "." : all[0] ? "" : " Fewer letters find more.");
		return [all, said];
	}

	let saying = 0, wanted = "", found = [];
	function search(words) {
		opened();
		wanted = words;
		const asked = asking(words);
		part("everything").hidden = asked.length > 0;
		let said = "";
		found = best(days(words.trim()));
		if (asked[0] && !found[0]) found = best(readings(asked));
		if (found[0]) said = summed(found);
		else if (asked[0]) [found, said] = helped(asked);
		part("found").replaceChildren();
		more(FIRST);
		const those = found;
		setTimeout(() => those === found && more(AT_ONCE - FIRST)); // the reader sees the first before
		clearTimeout(saying);
		saying = setTimeout(() => part("told").replaceChildren(said), QUIET_MS);
	}
	function more(many) {
		const list = part("found"), from = list.children.length;
		list.append(...found.slice(from, from + many).map(shown));
		document.querySelector("#found-more")?.remove();
		if (list.children.length >= AT_ONCE && found[list.children.length]) list.after(made("button", `Show all ${found.length}`, { id: "found-more" }));
	}

	// The words stand in the address, so that a search can be linked and Back finds it again.
	let keeping = 0;
	function keep() {
		clearTimeout(keeping);
		const words = field().value.trim();
		if (asIn() !== words) history.replaceState(null, "", hashOf(words) || location.pathname + location.search);
	}
	function asIn() {
		const words = location.hash.slice(1);
		if (words && document.getElementById(words)) return ""; // a place on the page
		return new URLSearchParams(`?is=${words.replace(/^\?/, "").replaceAll("&", "%26")}`).get("is");
	}
	function begin() {
		if (!part("search")) return;
		part("search").hidden = false;
		const words = wanted || asIn() || field().value;
		if (words) search(field().value = words);
	}

	const inField = ({ target }) => target.id === "words";
	on("focusin", (event) => inField(event) && ready());
	on("input", (event) => {
		if (!inField(event)) return;
		search(field().value);
		clearTimeout(keeping);
		keeping = setTimeout(keep, 400);
	});
	on("keydown", (event) => {
		if (!inField(event)) return;
		if (event.key === "Escape" && field().value) search(field().value = "");
		else if (event.key !== "Enter") return;
		else if (matchMedia("(pointer: coarse)").matches) field().blur(); // its keyboard covers what was found
		keep();
	});
	on("click", (event) => {
		if (event.target.id === "found-more") {
			const next = part("found").children.length;
			more(found.length);
			part("found").children[next].querySelector("a").focus();
		} else if (part("found")?.contains(event.target)) keep();
		else if (part("told")?.contains(event.target)) clearTimeout(keeping); // its link says other words
	});
	addEventListener("hashchange", () => {
		const words = asIn();
		if (field() && words && words !== field().value) search(field().value = words);
	});
	// Safari empties the field of a page that it brings back.
	addEventListener("pageshow", () => setTimeout(() => field() && (field().value ||= wanted)));
	on("exchanged", begin); // the bench has put a new page in the old one's place
	begin();
})();
