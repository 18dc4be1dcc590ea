//! The documents of the tree name only what is there: links, anchors, and paths in code marks.

use crate::{demand_none, demand_one, tree};
use std::collections::BTreeSet;

/// Folders whose paths, written in code marks, must exist.
const FOLDERS: [&str; 5] = ["crates/", "python/", "openapi/", "tests/", "deploy/"];

/// The lines of a document outside its fenced blocks, numbered.
fn prose(text: &str) -> impl Iterator<Item = (usize, &str)> {
    let mut fenced = false;
    (1..).zip(text.lines()).filter(move |(_, line)| {
        let fence = line.trim_start().starts_with("```");
        fenced ^= fence;
        !fenced && !fence
    })
}

/// The targets of `[words](target)` in a line.
fn targets(line: &str) -> Vec<&str> {
    line.split("](").skip(1).filter_map(|rest| rest.split([')', ' ']).next()).collect()
}

/// The texts in code marks in a line.
fn marked(line: &str) -> impl Iterator<Item = &str> {
    line.split('`').skip(1).step_by(2)
}

/// The anchors that a document's headings make: lower case, blanks to hyphens, other signs dropped.
fn anchors(text: &str) -> BTreeSet<String> {
    let headings = prose(text).filter(|(_, line)| line.starts_with('#'));
    headings.map(|(_, line)| anchor(line.trim_start_matches('#').trim())).collect()
}

fn anchor(heading: &str) -> String {
    let kept = heading.to_lowercase();
    let kept = kept.chars().filter(|sign| sign.is_alphanumeric() || matches!(sign, ' ' | '-' | '_'));
    kept.map(|sign| if sign == ' ' { '-' } else { sign }).collect()
}

/// A path of the tree as a document may write it: no blank, no wildcard, no placeholder in capitals.
fn is_plain_path(text: &str) -> bool {
    let placeholder = |part: &str| part.len() > 1 && part.chars().all(|sign| sign.is_ascii_uppercase());
    FOLDERS.iter().any(|folder| text.starts_with(folder))
        && !text.contains(['*', '{', '<', ' ', '$'])
        && !text.split(['/', '.']).any(placeholder)
}

/// A bare file name such as `sources.tsv`; a document that names one speaks of a file of ours.
fn is_file_name(text: &str) -> bool {
    let plain = |sign: char| sign.is_ascii_lowercase() || sign.is_ascii_digit() || "_-.".contains(sign);
    let kinds = ["tsv", "rs", "py", "json", "toml", "yaml", "md"];
    let kind = text.rsplit_once('.').filter(|(stem, _)| !stem.is_empty()).map(|(_, kind)| kind);
    text.chars().all(plain) && kind.is_some_and(|kind| kinds.contains(&kind))
}

/// The tree as the documents may name it.
struct Known<'a> {
    paths: &'a [String],
    read: &'a dyn Fn(&str) -> Option<String>,
}

impl Known<'_> {
    /// Whether a file or a folder stands at this path.
    fn at(&self, path: &str) -> bool {
        let inside = |known: &String| known.strip_prefix(path).is_some_and(|rest| rest.starts_with('/'));
        path.is_empty() || self.paths.iter().any(|known| known == path || inside(known))
    }

    /// Whether a file of this name stands anywhere.
    fn somewhere(&self, name: &str) -> bool {
        self.paths.iter().any(|known| known.rsplit('/').next() == Some(name))
    }

    /// Whether a link from a document leads to a file and, where it names one, to a heading there.
    fn leads(&self, from: &tree::File, target: &str) -> bool {
        let folder = from.path.rsplit_once('/').map_or("", |(folder, _)| folder);
        let (file, fragment) = target.split_once('#').unwrap_or((target, ""));
        if file.is_empty() {
            return anchors(&from.text).contains(fragment);
        }
        let whole = resolve(folder, file);
        let has_heading = || (self.read)(&whole).is_some_and(|text| anchors(&text).contains(fragment));
        self.at(&whole) && (fragment.is_empty() || has_heading())
    }
}

/// What a document names that is not there.
fn faults(document: &tree::File, known: &Known<'_>) -> Vec<String> {
    let mut found = Vec::new();
    for (number, line) in prose(&document.text) {
        let dead = targets(line).into_iter().filter(|target| !target.contains("://"));
        for target in dead.filter(|target| !known.leads(document, target)) {
            found.push(format!("{}:{number}: {target} leads nowhere", document.path));
        }
        for named in marked(line) {
            let gone = (is_plain_path(named) && !known.at(named.trim_end_matches('/')))
                || (is_file_name(named) && !known.somewhere(named));
            if gone {
                found.push(format!("{}:{number}: {named} is not there", document.path));
            }
        }
    }
    found
}

/// A link from a document in `folder`, as a path from the root.
fn resolve(folder: &str, link: &str) -> String {
    let mut parts: Vec<&str> = folder.split('/').filter(|part| !part.is_empty()).collect();
    for part in link.trim_end_matches('/').split('/') {
        match part {
            "." | "" => {}
            ".." => drop(parts.pop()),
            other => parts.push(other),
        }
    }
    parts.join("/")
}

/// The newcomer's document opens with two shell blocks: the main job and the tests.
fn readme_faults(text: &str) -> Vec<String> {
    let opens = |line: &&str| matches!(line.trim_end(), "```sh" | "```bash" | "```shell" | "```console");
    let blocks = text.lines().filter(opens).count();
    let job = text.find("cargo run --release -- calculate blend tests/data/cases/");
    let tests = text.find("bash tests/run");
    match (job, tests) {
        (Some(job), Some(tests)) if blocks >= 2 && job < tests => Vec::new(),
        _ => vec!["README.md needs two shell blocks, the main job first, then the tests".to_owned()],
    }
}

#[test]
fn documents_name_only_what_is_there() {
    let paths = tree::paths();
    for wanted in ["README.md", "DEVELOPERS.md", "CHANGELOG.md"] {
        assert!(paths.iter().any(|path| path == wanted), "{wanted} is missing");
    }
    let read = |path: &str| std::fs::read_to_string(tree::root().join(path)).ok();
    let known = Known { paths: &paths, read: &read };
    let documents = tree::files(|path| path.ends_with(".md"));
    demand_none(documents.iter().flat_map(|document| faults(document, &known)).collect());
}

#[test]
fn the_readme_opens_with_the_job_and_the_tests() {
    demand_none(readme_faults(&std::fs::read_to_string(tree::root().join("README.md")).unwrap_or_default()));
}

#[test]
fn planted_dead_links_are_found() {
    let paths = ["README.md", "docs/a.md", "crates/chem/data/t.tsv", "docs/b.md"].map(str::to_owned);
    let read = |path: &str| (path == "docs/b.md").then(|| "# Title\n## A salt, added\n".to_owned());
    let known = Known { paths: &paths, read: &read };
    let of = |text: &str| faults(&tree::File { path: "docs/a.md".to_owned(), text: text.to_owned() }, &known);
    let good = "[b](b.md#a-salt-added) [up](../README.md) [web](https://example.org/x) `crates/chem` `cargo test`\n\
                `crates/*/x` `tests/data/NAME.json` `t.tsv`\n```sh\n[x](gone.md)\n```\n# Here\n[here](#here)\n";
    assert_eq!(of(good), Vec::<String>::new());
    demand_one(&of("[x](gone.md)\n"), "a.md:1: gone.md leads nowhere");
    demand_one(&of("[x](b.md#missing)\n"), "b.md#missing");
    demand_one(&of("# Here\n[x](#there)\n"), "#there");
    demand_one(&of("see `crates/gone/lib.rs`\n"), "crates/gone/lib.rs is not there");
    demand_one(&of("a row of `gone.tsv`\n"), "gone.tsv is not there");
    let job = "```sh\ncargo run --release -- calculate blend tests/data/cases/a.json\n```\n";
    let tests = "```sh\nbash tests/run\n```\n";
    assert_eq!(readme_faults(&format!("{job}{tests}")), Vec::<String>::new());
    demand_one(&readme_faults(&format!("{tests}{job}")), "main job first");
    demand_one(&readme_faults(job), "two shell blocks");
}
