// The form for tonight's note: more rows, pictures sent one by one, and a draft that a reload
// does not lose. Without it the form works as a plain form does.
"use strict";
(() => {
  const form = document.querySelector("form#note");
  const DRAFT = "tonight's note";
  document.documentElement.classList.add("js");
  if (!form) {
    if (document.querySelector("section#note.done")) sessionStorage.removeItem(DRAFT);
    return;
  }
  const all = (selector, within = form) => [...within.querySelectorAll(selector)];
  const token = form.elements.token.value;
  const list = (head) => form.querySelector(`[data-list="${head}"]`);
  const names = new Map(all("#tasks option").map((one) => [one.value, one.label]));

  // ---- rows
  const numberOf = (row, head) => {
    const first = row.querySelector(`[name^="${head}-"]`);
    return Number(/-(\d+)/.exec(first.name)[1]);
  };
  function addRow(head) {
    const numbers = all(`[data-row="${head}"]`).map((row) => numberOf(row, head));
    const number = Math.max(0, ...numbers) + 1;
    const made = form.querySelector(`template[data-blank="${head}"]`).content.cloneNode(true);
    for (const one of made.querySelectorAll("[name], [id], [for]")) {
      for (const key of ["name", "id", "for"]) {
        if (one.hasAttribute(key)) {
          one.setAttribute(key, one.getAttribute(key).replace(`${head}-0`, `${head}-${number}`));
        }
      }
    }
    const row = made.firstElementChild;
    const spare = list(head).querySelector(".spare");
    list(head).insertBefore(row, spare);
    if (head === "task") callTask(row.querySelector("input"));
    return row;
  }
  form.addEventListener("click", (event) => {
    const head = event.target.dataset?.add;
    if (head) {
      const row = addRow(head);
      row.querySelector("input:not([type=hidden])").focus();
    }
    if (event.target.dataset?.leaveOut !== undefined) {
      const row = event.target.closest("[data-row]");
      const after = row.nextElementSibling?.querySelector("input") ?? form.querySelector('[data-add="task"]');
      for (const one of all("input, select", row)) {
        if (one.type === "checkbox") one.checked = false;
        else one.value = "";
        touched.add(one.name);
      }
      row.hidden = true; // it stays, empty, so that the draft knows that it was left out
      after.focus();
      offerTasks();
      tellUntimed();
      keep();
    }
  });
  // Rows that only browsers without script need would be sent too; they are empty, so let them go.
  all(".spare").forEach((row) => row.remove());

  function callTask(input) {
    const called = input.closest('[data-row="task"]')?.querySelector("[data-called]");
    const label = names.get(input.value.trim()) ?? "";
    const leave = input.closest('[data-row="task"]')?.querySelector("[data-leave-out]");
    if (leave) leave.hidden = !input.value.trim();
    if (called) called.textContent = label.startsWith(input.value.trim()) ? label.slice(input.value.trim().length).trim() : label;
  }

  // ---- the tasks of tonight, to be named at a picture with one touch
  const tonight = () => [...new Set(all('[data-row="task"]')
    .map((row) => row.querySelector("input").value.trim()).filter(Boolean))];
  const wordsOf = (input) => input.value.split(/[,;]/).map((word) => word.trim()).filter(Boolean);
  function offerTasks() {
    const tasks = tonight();
    for (const row of all('[data-row="picture"]')) {
      const input = row.querySelector('[name$="-shows"]');
      let bar = row.querySelector(".shown-ids");
      if (!bar) {
        bar = document.createElement("div");
        bar.className = "shown-ids";
        bar.setAttribute("role", "group");
        bar.setAttribute("aria-label", "Tonight’s tasks");
        input.after(bar);
      }
      bar.hidden = tasks.length === 0;
      // A button must not be exchanged between a press and its release: the click would be lost.
      if ([...bar.children].map((one) => one.textContent).join("\n") !== tasks.join("\n")) {
        bar.replaceChildren(...tasks.map((task) => button(task, input)));
      }
      for (const one of bar.children) {
        one.setAttribute("aria-pressed", String(wordsOf(input).includes(one.textContent)));
      }
    }
  }
  function button(task, input) {
    const made = document.createElement("button");
    made.type = "button";
    made.textContent = task;
    made.addEventListener("click", () => {
      const words = wordsOf(input);
      const left = words.filter((word) => word !== task);
      input.value = (left.length < words.length ? left : [...words, task]).join(", ");
      input.dispatchEvent(new Event("input", { bubbles: true }));
    });
    return made;
  }

  function tellUntimed() {
    const untimed = all('[data-row="task"]').filter((row) => row.querySelector("input").value.trim()
      && !row.querySelector('[name$="-hours"]').value.trim()).length;
    const timed = all('[name^="hours:"]').some((one) => one.value.trim()) || form.elements.clock?.checked;
    const told = form.querySelector("[data-untimed]");
    told.textContent = untimed > 1 && timed
      ? `${untimed} tasks have no time of their own, so what is left stays with none of them: write it, or leave some out.`
      : "";
  }

  // ---- pictures
  const refused = form.querySelector("[data-refused]");
  const waiting = form.querySelector("[data-waiting]");
  const chooser = form.elements.file;
  let sending = 0;
  let asked = false;
  const queue = [];
  const settle = () => {
    const left = sending + queue.length;
    waiting.textContent = left ? `${left} picture${left === 1 ? " is" : "s are"} on the way${asked ? "; the note is written when they are here" : ""}` : "";
    if (!left && asked) {
      asked = false;
      if (!form.querySelector("[data-again]")) form.requestSubmit(form.querySelector("button.main"));
    }
  };
  function take(files) {
    for (const file of files) {
      const row = addRow("picture");
      row.querySelector("[data-name]").textContent = file.name;
      row.querySelector('[name$="-attach"]').checked = true;
      const image = row.querySelector("img");
      image.addEventListener("error", () => {
        if (image.src.startsWith("blob:")) image.src = "data:,"; // a kind that only the bench can draw
      });
      image.src = URL.createObjectURL(file);
      queue.push([file, row]);
    }
    offerTasks();
    next();
  }
  function next() {
    while (sending < 2 && queue.length) send(...queue.shift());
    settle();
  }
  function send(file, row) {
    sending += 1;
    const told = row.querySelector("[data-progress]");
    const request = new XMLHttpRequest();
    const data = new FormData();
    data.append("picture", file, file.name);
    request.open("POST", "/pictures");
    request.setRequestHeader("X-Bench-Token", token);
    request.responseType = "json";
    request.upload.addEventListener("progress", (event) => {
      if (event.lengthComputable) told.textContent = `${Math.floor(100 * event.loaded / event.total)} % sent`;
    });
    const over = (words, again) => {
      sending -= 1;
      if (words) fail(row, file, words, again);
      keep();
      next();
    };
    request.addEventListener("load", () => {
      const answer = request.response;
      if (request.status === 200 && answer?.name) {
        arrived(row, answer);
        over("");
      } else {
        over(answer?.told ?? `the picture was not taken (${request.status})`, request.status >= 500);
      }
    });
    request.addEventListener("error", () => over("the bench did not answer; is it still running?", true));
    request.addEventListener("abort", () => over("the sending was broken off", true));
    request.send(data);
  }
  const MONTHS = "January February March April May June July August September October November December".split(" ");
  function takenWords(taken) {
    const found = /^(\d{4})-(\d\d)-(\d\d)(?:T(\d\d:\d\d))?/.exec(taken);
    if (!found) return "";
    const day = `${Number(found[3])} ${MONTHS[found[2] - 1]} ${found[1]}`;
    return found[4] ? `${day}, ${found[4]}` : day;
  }
  function arrived(row, answer) {
    const head = row.id;
    form.elements[head].value = answer.name;
    row.querySelector("[data-progress]").textContent = "";
    row.querySelector("[data-taken]").textContent = takenWords(answer.taken ?? "");
    // The phone's server shows no pictures; what the phone itself can draw has to do there.
    if (form.dataset.phone === undefined) row.querySelector("img").src = answer.small;
  }
  function fail(row, file, words, again) {
    row.querySelector("[data-progress]").textContent = "";
    const told = document.createElement("p");
    told.className = "wrong";
    told.setAttribute("role", "alert");
    told.textContent = words;
    if (!again) {
      refused.hidden = false;
      refused.textContent = `${file.name}: ${words}`;
      row.remove();
      return;
    }
    const button = document.createElement("button");
    button.type = "button";
    button.dataset.again = "";
    button.textContent = "Send it again";
    button.addEventListener("click", () => {
      told.remove();
      button.remove();
      queue.push([file, row]);
      next();
    });
    row.querySelector("[data-progress]").after(told, button);
  }
  const takeChosen = () => {
    refused.hidden = true;
    take(chooser.files);
    chooser.value = ""; // what was sent need not go with the form once more
  };
  chooser.addEventListener("change", takeChosen);
  // A picture that came another way, from the phone or a cable, gets its row too.
  const hasRow = (name) => all('[data-row="picture"]').some((row) => form.elements[row.id].value === name);
  document.addEventListener("inbox", (event) => {
    if (sending || queue.length) return; // it may be one of those on their way
    for (const one of event.detail) {
      if (!hasRow(one.inbox)) showPicture(one.inbox, one.taken, one.small, one.on !== undefined);
    }
    offerTasks();
  });
  function showPicture(name, taken, small, on) {
    const row = addRow("picture");
    form.elements[row.id].value = name;
    row.querySelector("[data-name]").textContent = name;
    row.querySelector("[data-taken]").textContent = taken;
    row.querySelector("img").src = small;
    row.querySelector('[name$="-attach"]').checked = on;
    return row;
  }
  const drop = form.querySelector("[data-drop]");
  const holdsFiles = (event) => [...(event.dataTransfer?.types ?? [])].includes("Files");
  for (const kind of ["dragenter", "dragover"]) {
    document.addEventListener(kind, (event) => {
      if (!holdsFiles(event)) return;
      event.preventDefault();
      drop.classList.add("over");
    });
  }
  document.addEventListener("dragleave", (event) => {
    if (!event.relatedTarget) drop.classList.remove("over");
  });
  document.addEventListener("drop", (event) => {
    if (!holdsFiles(event)) return;
    event.preventDefault(); // else the browser would leave the page for the picture
    drop.classList.remove("over");
    refused.hidden = true;
    take(event.dataTransfer.files);
  });
  document.addEventListener("paste", (event) => {
    if (event.clipboardData?.files.length) {
      event.preventDefault();
      take(event.clipboardData.files);
    }
  });

  // ---- the draft: what was touched, and no more, so that what the bench knows better stays
  const touched = new Set();
  const isKept = (one) => one.name && !["token", "once", "file"].includes(one.name) && one.type !== "submit";
  const boxes = (name) => all(`[name="${CSS.escape(name)}"]`);
  const readField = (name) => boxes(name).filter((one) => one.type !== "checkbox" || one.checked).map((one) => one.value);
  function keep() {
    const fields = {};
    for (const name of touched) {
      if (!name.startsWith("picture-") && boxes(name).length) fields[name] = readField(name);
    }
    const pictures = {};
    for (const row of all('[data-row="picture"]')) {
      const name = form.elements[row.id].value;
      if (!name) continue;
      const own = {};
      for (const one of all(`[name^="${row.id}-"]`, row)) own[one.name.slice(row.id.length)] = readField(one.name);
      pictures[name] = { own, taken: row.querySelector("[data-taken]").textContent, src: row.querySelector("img").getAttribute("src").replace(/^blob:.*/, "data:,") };
    }
    if (!touched.size) return;
    try {
      sessionStorage.setItem(DRAFT, JSON.stringify({ at: Date.now(), day: form.elements.day.value, fields, pictures }));
    } catch { /* no room: the form itself still holds all */ }
  }
  function fill(name, values) {
    const head = /^(task|snag|part)-(\d+)/.exec(name);
    while (head && !boxes(name).length && numbersBelow(head)) addRow(head[1]);
    for (const one of boxes(name)) {
      if (one.type === "checkbox") one.checked = values.includes(one.value);
      else one.value = values[0] ?? "";
      unfold(one);
    }
    touched.add(name);
  }
  const numbersBelow = ([, head, number]) => Math.max(0, ...all(`[data-row="${head}"]`)
    .map((row) => numberOf(row, head))) < Math.min(Number(number), 200);
  const unfold = (one) => {
    for (let fold = one.closest("details"); fold; fold = fold.parentElement.closest("details")) {
      if (one.type === "checkbox" ? one.checked : one.value) fold.open = true;
    }
  };
  const hideLeftOut = () => {
    for (const row of all('[data-row="task"]')) {
      const words = all("input, select", row).filter((one) => one.type === "checkbox" ? one.checked : one.value);
      const first = row.querySelector("input");
      if (!words.length && touched.has(first.name) && first.defaultValue) row.hidden = true;
    }
  };
  function restore() {
    let draft = null;
    try {
      draft = JSON.parse(sessionStorage.getItem(DRAFT) ?? "null");
    } catch { /* not ours */ }
    if (!draft?.fields) return;
    for (const [name, values] of Object.entries(draft.fields)) fill(name, values);
    for (const [name, kept] of Object.entries(draft.pictures ?? {})) {
      let row = all('[data-row="picture"]').find((one) => form.elements[one.id].value === name);
      row ??= showPicture(name, kept.taken, kept.src, false);
      for (const [key, values] of Object.entries(kept.own)) fill(row.id + key, values);
    }
    hideLeftOut();
    const told = form.querySelector("[data-draft]");
    const other = draft.day !== form.elements.day.value ? `${draft.day}, ` : "";
    if (other) fill("day", [draft.day]);
    told.firstElementChild.textContent = `Kept from ${other}${timeOf(draft.at)}, not written yet.`;
    told.hidden = false;
  }
  const timeOf = (at) => `${new Date(at).getHours()}:${String(new Date(at).getMinutes()).padStart(2, "0")}`;

  // A page that was left open is of another evening: its day must not slip into a new note.
  const OLD = 3 * 3600 * 1000;
  let opened = Date.now();
  function ageing() {
    if (document.visibilityState !== "visible" || Date.now() - opened < OLD || sending) return;
    if (!touched.size) {
      location.reload();
      return;
    }
    const told = form.querySelector("[data-draft]");
    told.firstElementChild.textContent = `This page was opened at ${timeOf(opened)}; its note is of ${form.elements.day.value}.`;
    told.hidden = false;
    opened = Date.now();
  }
  document.addEventListener("visibilitychange", ageing);
  setInterval(ageing, 60000);
  form.querySelector("[data-afresh]").addEventListener("click", () => {
    sessionStorage.removeItem(DRAFT);
    location.assign("/");
  });
  const noted = (event) => {
    if (!isKept(event.target)) return;
    touched.add(event.target.name);
    if (/^task-\d+$/.test(event.target.name)) callTask(event.target);
    offerTasks();
    tellUntimed();
    keep();
  };
  form.addEventListener("input", noted);
  form.addEventListener("change", noted);

  // ---- sending
  form.addEventListener("submit", (event) => {
    // The key that ends a word presses the form's first button, which is not shown here.
    if (event.submitter?.value === "attach") {
      event.preventDefault();
      return;
    }
    if (sending || queue.length) {
      event.preventDefault();
      asked = true;
      settle();
      return;
    }
    const button = form.querySelector("button.main");
    if (button.getAttribute("aria-disabled") === "true") event.preventDefault(); // a second click
    button.setAttribute("aria-disabled", "true");
  });
  addEventListener("pageshow", () => form.querySelector("button.main").removeAttribute("aria-disabled"));
  form.addEventListener("keydown", (event) => {
    if (event.key === "Enter" && (event.ctrlKey || event.metaKey)) {
      form.requestSubmit(form.querySelector("button.main"));
    }
  });

  if (form.dataset.kept === "yes") {
    for (const one of form.elements) if (isKept(one)) touched.add(one.name);
    keep();
    form.querySelector(".troubles")?.focus();
  } else {
    restore();
  }
  all('[data-row="task"] input').forEach((one) => /^task-\d+$/.test(one.name) && callTask(one));
  offerTasks();
  tellUntimed();
  if (chooser.files.length) takeChosen(); // chosen before this script was here
})();
