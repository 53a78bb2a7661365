"use strict";
// The answer, the files and the report.
(function () {
  const h = P.h,
    t = P.t,
    V = P.views;
  const lead = (s) => {
    const i = s.indexOf(": ");
    return i > 0 && i < 25 ? [s.slice(0, i), s.slice(i + 2, i + 3).toUpperCase() + s.slice(i + 3)] : ["", s];
  };

  // verdict shows the sentences of the library; what would act on the line waits for the question of fire.
  P.verdict = function (l) {
    const box = h("section", { "aria-label": t("step.answer") });
    P.followers.push(() => {
      const a = P.answer && P.answerOf === l.id ? P.answer : null;
      const v = a && a.verdict;
      if (!v) {
        box.replaceChildren(
          h(
            "p",
            null,
            P.compute.state === "failed"
              ? t("failed")
              : a && a.faults && a.faults.length
                ? t("answerFaults")
                : l.rows.length
                  ? t("computing")
                  : t("answerNone"),
          ),
        );
        return;
      }
      const open = !P.shut(l);
      const rows = ["earth", "source", "agree", "measure"].concat(open ? ["do", "doNot", "outlook"] : []);
      box.replaceChildren(
        ...[
          h(
            "dl",
            { class: "verdict" },
            rows
              .filter((k) => v[k])
              .map((k) => {
                const [b, s] = lead(v[k]);
                return [h("dt", null, b || t("also")), h("dd", null, P.tidy(s))];
              }),
          ),
          open
            ? null
            : P.shutNotice(l),
          h("h2", null, t("hazards")),
          ...(v.notices || []).map((n) => P.notice(n)),
        ].filter((x) => x),
      );
    });
    return box;
  };

  V.answer = function (l) {
    return [
      h("h1", { tabindex: -1 }, t("step.answer")),
      P.verdict(l),
      P.faultList("line"),
      P.faultList("survey"),
      h("h2", null, t("stationTable")),
      h("p", { class: "hint" }, t("stationTableHint")),
      stands(l),
    ];
  };

  function stands(l) {
    const body = h("tbody");
    P.followers.push(() => {
      const list = (P.answer && P.answerOf === l.id && P.answer.stands) || [];
      body.replaceChildren(
        ...list.map((s) =>
          h(
            "tr",
            null,
            h("th", { scope: "row" }, s.name),
            h(
              "td",
              null,
              h("div", null, t("onA", s.a)),
              h("div", null, t("onB", s.b)),
              h("div", null, h("b", null, t("net", s.net)), s.over ? h("b", null, " " + t("overLimit")) : ""),
            ),
          ),
        ),
      );
    });
    return h(
      "table",
      null,
      h("caption", { class: "hide" }, t("stationTable")),
      h("thead", null, h("tr", null, h("th", { scope: "col" }, t("station")), h("th", { scope: "col" }, t("charges")))),
      body,
    );
  }

  P.saveText = function (name, type, text) {
    const a = h("a", { href: URL.createObjectURL(new Blob([text], { type })), download: name });
    document.body.append(a);
    a.click();
    a.remove();
    setTimeout(() => URL.revokeObjectURL(a.href), 20000);
  };

  V.files = function (l) {
    const names = P.fileNames(l);
    const both = async (part) => {
      const s = await P.ask("save", P.request(l));
      if (!s || s.faults) {
        P.say(s ? s.faults[0].text : t("notYet"));
        return;
      }
      if (part === "line") P.saveText(names[0], "application/json", s.line);
      else P.saveText(names[1], "text/csv", s.survey);
    };
    // page saves the report of the program survey, the same bytes; it needs an answer, as that does.
    const page = async () => {
      if (P.shut(l)) {
        P.say(t("shut"));
        return;
      }
      const q = Object.assign(P.request(l), { safety: P.safety(l) });
      const s = l.rows.length ? await P.ask("report", q) : { faults: [{ text: t("answerNone") }] };
      if (!s || s.faults.length) P.say(s ? s.faults[0].text : t("notYet"));
      else P.saveText(names[0].replace("-line.json", "-report.html"), "text/html", s.html);
    };
    const a = l.asks;
    return [
      h("h1", { tabindex: -1 }, t("step.files")),
      h(
        "div",
        { class: "noprint" },
        h("p", null, t("filesText")),
        h(
          "div",
          { class: "row" },
          h("button", { click: () => both("line"), id: "saveline" }, t("saveLine")),
          h("button", { click: () => both("survey"), id: "savesurvey" }, t("saveSurvey")),
          h(
            "button",
            {
              id: "saveresult",
              click: async () => {
                if (P.shut(l)) {
                  P.say(t("shut"));
                  return;
                }
                const r = l.rows.length ? await P.ask("result", P.request(l)) : null;
                if (r && r.result)
                  P.saveText(names[0].replace("-line.json", "-result.json"), "application/json", r.result);
                else P.say(t(r && r.faults.length ? "answerFaults" : "answerNone"));
              },
            },
          t("saveResult"),
          ),
          h("button", { click: page, id: "savereport" }, t("saveReport")),
          h("button", { class: "main", click: () => window.print() }, t("print")),
        ),
        h("p", { class: "hint" }, t("filesHint", names[0], names[1])),
        h(
          "label",
          { class: "button" },
          t("openSurvey"),
          h("input", {
            class: "hide",
            type: "file",
            multiple: true,
            accept: ".json,.csv",
            change: (e) => P.openFiles(e.target.files),
          }),
        ),
        h("div", { id: "opened", role: "status" }),
      ),
      h("h2", null, t("reportHead", l.desc.name || t("unnamed"))),
      l.desc.note && h("p", null, l.desc.note),
      h(
        "p",
        null,
        P.tidy(
          t(
            "reportSum",
            l.desc.speed || "?",
            l.desc.web.material || "?",
            l.desc.web.thickness || "?",
            l.desc.web.width || "?",
          ),
        ),
      ),
      h("p", null, t("reportTrouble", a.wrong.map((w) => t("wrong." + w)).join(", ") || "–", a.since || "–")),
      a.words && h("p", null, a.words),
      h("p", null, t("reportFire", t("fire." + (a.fire || "open")) + (a.by ? " (" + a.by + ")" : ""))),
      P.verdict(l),
      h("h2", null, t("taken")),
      P.readingList(l, () => true),
      h("h2", null, t("stationTable")),
      stands(l),
      P.assumed(),
    ];
  };
})();
