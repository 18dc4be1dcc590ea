"""Published tables beside this model and the reference engines; tests/REFERENCE.md is written from here.

Every tolerance of reference/tables.py is asserted unless the table says there why it is not met, and the checked-in
page must agree with what is computed now to the last digit. `--write` writes the page anew.
"""

import sys
from collections import Counter

from reference import differences, ours, report, tables

PAGE = ours.ROOT / "tests" / "REFERENCE.md"


def largest_differences() -> list[str]:
    """The section on the generated waters: how large, by which constant, and which table bears on it."""
    asked, outcomes = differences.outcomes()
    lines = ["## Largest differences from the main database of the reference engine", ""]
    lines.append(
        f"{len(asked)} generated waters, 4 to 60 °C, ionic strength below 0.05, against {differences.DATABASE}; pH on one scale. Waters beyond "
        "the bound (pH 0.03, SI 0.09) are solved again with one constant of the database replaced; two where one is not enough."
    )
    lines += ["", report.line(["of", "p90", "worst", "beyond", "brought inside by", "unexplained"]), report.line(["---"] * 6)]
    used: Counter[str] = Counter()
    for outcome in outcomes:
        p90, worst = differences.spread(outcome.plain)
        causes = Counter(" and ".join(choice) for choice, _ in outcome.cured.values())
        used.update(name for choice, _ in outcome.cured.values() for name in choice)
        said = ", ".join(f"{name} ({count})" for name, count in sorted(causes.items())) or "-"
        beyond = len(outcome.cured) + len(outcome.left)
        lines.append(report.line([outcome.quantity, f"{p90:.3f}", f"{worst:+.3f}", str(beyond), said, str(len(outcome.left))]))
    lines += ["", report.line(["constant", "theirs and what it is replaced by", "published table that bears on it"]), report.line(["---"] * 3)]
    lines += [report.line([constant.name, constant.words, constant.bears]) for constant in differences.CONSTANTS if used[constant.name]]
    lines += ["", "The worst water of each:", "", report.line(["of", "difference", "°C", "mmol/kg", "constant", "then"]), report.line(["---"] * 6)]
    for outcome in outcomes:
        if outcome.cured:
            at = max(outcome.cured, key=lambda k: abs(outcome.plain[k]))
            water, (choice, left) = asked[at], outcome.cured[at]
            held = ", ".join(f"{of} {1000 * amount:.3f}" for of, amount in water["components"].items()) + f", DIC {1000 * water['known']['dic']:.3f}"
            lines.append(report.line([outcome.quantity, f"{outcome.plain[at]:+.3f}", f"{water['t_c']:.1f}", held, " and ".join(choice), f"{left:+.3f}"]))
    return lines


def main() -> int:
    models = report.models()
    names = [model.name for model in models]
    compared = [report.compare(table, models) for table in tables.TABLES]
    cited = tables.sources()
    passed, failures = 0, []
    for each in compared:
        failures += [f"{each.table.file}: no source {row['source']}" for row in each.rows if row["source"] not in cited]
        for judged in each.judged:
            reached = f"{each.table.title}, {judged.bound.of}, {judged.bound.words}: {judged.worst[0]} for {judged.bound.most}"
            passed += 1
            if judged.rows == 0:
                failures.append(f"{reached}: no row")
            elif not judged.met and not judged.bound.unmet:
                failures.append(reached)
            elif judged.bound.unmet:
                print(f"not met, as said: {reached}")
    page = report.written(compared, names, largest_differences())
    if "--write" in sys.argv[1:]:
        PAGE.write_text(page, encoding="utf-8")
    stale = report.is_stale(PAGE.read_text(encoding="utf-8") if PAGE.exists() else "", page)
    if stale:
        failures.append(f"{PAGE.name} is out of date (published_tables.py --write), {stale}")
    for failure in failures:
        print(f"FAILED {failure}")
    print(f"{passed + 1 - len(failures)} passed, {len(failures)} failed")
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
