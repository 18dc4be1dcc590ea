//! What stands where: the top level, the packages and their licences, the words that must not stay in the tree.

use crate::{demand_none, demand_one, tree};
use std::collections::BTreeSet;

/// What may stand at the top level beside dot-files.
const TOP: [&str; 16] = [
    "Cargo.toml",
    "Cargo.lock",
    "README.md",
    "DEVELOPERS.md",
    "CHANGELOG.md",
    "LICENSE-APACHE",
    "LICENSE-MIT",
    "rust-toolchain.toml",
    "rustfmt.toml",
    "clippy.toml",
    "deny.toml",
    "crates",
    "python",
    "openapi",
    "tests",
    "deploy",
];

/// Every package of the house, by the folder of its manifest.
const PACKAGES: [(&str, &str); 7] = [
    ("crates/chem", "springwright-chem"),
    ("crates/contract", "springwright-contract"),
    ("crates/records", "springwright-records"),
    ("crates/service", "springwright"),
    ("crates/client", "springwright-client"),
    ("python", "springwright-python"),
    ("tests", "springwright-tests"),
];

/// Lines that every manifest of the workspace has, so that licence, version and lints are said once.
const SHARED_LINES: [&str; 4] = [
    "license.workspace = true",
    "version.workspace = true",
    "rust-version.workspace = true",
    "workspace = true",
];

fn top_faults<'a>(paths: impl Iterator<Item = &'a str>) -> Vec<String> {
    let top: BTreeSet<&str> = paths.filter_map(|path| path.split('/').next()).collect();
    let strange = top.iter().filter(|name| !name.starts_with('.') && !TOP.contains(name));
    let missing = TOP.iter().filter(|name| !top.contains(**name));
    let strange = strange.map(|name| format!("{name} does not belong at the top level"));
    strange.chain(missing.map(|name| format!("{name} is missing at the top level"))).collect()
}

fn manifest_faults(folder: &str, package: &str, manifest: Option<&str>) -> Vec<String> {
    let Some(text) = manifest else { return vec![format!("{folder}/Cargo.toml is missing")] };
    let lines: Vec<&str> = text.lines().map(str::trim).collect();
    let mut wanted: Vec<String> = SHARED_LINES.iter().map(|line| (*line).to_owned()).collect();
    wanted.push(format!("name = \"{package}\""));
    let absent = wanted.iter().filter(|line| !lines.contains(&line.as_str()));
    let mut faults: Vec<String> = absent.map(|line| format!("{folder}/Cargo.toml lacks: {line}")).collect();
    if !lines.iter().any(|line| line.starts_with("description = \"")) {
        faults.push(format!("{folder}/Cargo.toml lacks a description"));
    }
    faults
}

/// Every source says in its first lines what it is about.
fn undocumented(file: &tree::File) -> Option<String> {
    let first = file.text.lines().find(|line| !line.trim().is_empty()).unwrap_or("");
    let said = first.strip_prefix("//!").map_or(0, |words| words.split_whitespace().count());
    (said < 2).then(|| format!("{}: the file does not begin by saying what it is about", file.path))
}

/// Marks of unfinished work.
fn unfinished(file: &tree::File) -> Vec<String> {
    let marks = [
        ["TO", "DO"].concat(),
        ["FIX", "ME"].concat(),
        ["XX", "X"].concat(),
        ["unimplemen", "ted!"].concat(),
        ["todo", "!("].concat(),
        ["dbg", "!("].concat(),
    ];
    hits(file, |line| marks.iter().find(|mark| tree::has_word(line, mark)).cloned())
}

/// Paths of one machine.
fn machine_paths(file: &tree::File) -> Vec<String> {
    let homes = ["home", "root", "Users", "work"].map(|name| format!("/{name}/"));
    let begins = |line: &str, at: usize| {
        let before = line[..at].chars().next_back();
        before.is_none_or(|sign| !(sign.is_alphanumeric() || "/_.-}~".contains(sign)))
    };
    hits(file, |line| {
        homes.iter().find(|home| line.match_indices(home.as_str()).any(|(at, _)| begins(line, at))).cloned()
    })
}

fn hits(file: &tree::File, found: impl Fn(&str) -> Option<String>) -> Vec<String> {
    let numbered = (1..).zip(file.text.lines());
    let hit = numbered.filter_map(|(number, line)| found(line).map(|what| (number, what)));
    hit.map(|(number, what)| format!("{}:{number}: {what}", file.path)).collect::<Vec<_>>()
}

fn changelog_faults(text: &str) -> Vec<String> {
    let heads =
        |line: &str| line.starts_with("## ") && (line.contains("Unreleased") || line.contains("0.1.0"));
    let said = text.lines().skip_while(|line| !heads(line)).skip(1).find(|line| !line.trim().is_empty());
    match said {
        Some(line) if !line.starts_with("## ") => Vec::new(),
        _ => vec!["CHANGELOG.md has no filled section Unreleased or 0.1.0".to_owned()],
    }
}

/// The pinned toolchain and the least Rust of the manifests are the same version.
fn toolchain_faults(manifest: &str, toolchain: &str) -> Vec<String> {
    let value = |text: &str, name: &str| {
        let line = text.lines().find(|line| line.starts_with(&format!("{name} = ")))?;
        line.split('"').nth(1).map(str::to_owned)
    };
    let (least, pinned) = (value(manifest, "rust-version"), value(toolchain, "channel"));
    match (&least, &pinned) {
        (Some(least), Some(pinned)) if pinned.starts_with(least.as_str()) => Vec::new(),
        _ => vec![format!("rust-version is {least:?}, the pinned channel {pinned:?}")],
    }
}

/// Each step of the test run is called by it, and each one it calls exists.
fn step_faults<'a>(run: &str, steps: impl Iterator<Item = &'a str>) -> Vec<String> {
    let list = run.lines().find_map(|line| line.strip_prefix("ALL_STEPS=(")).unwrap_or("");
    let called: BTreeSet<&str> = list.trim_end_matches(')').split_whitespace().collect();
    let there: BTreeSet<&str> = steps.collect();
    called
        .symmetric_difference(&there)
        .map(|name| format!("tests/run and tests/steps differ in {name}"))
        .collect()
}

fn is_prose_or_program(path: &str) -> bool {
    path != "Cargo.lock" && !path.ends_with(".svg") && !path.starts_with("LICENSE")
}

fn read(path: &str) -> Option<String> {
    std::fs::read_to_string(tree::root().join(path)).ok()
}

#[test]
fn the_top_level_is_as_agreed() {
    let paths = tree::paths();
    demand_none(top_faults(paths.iter().map(String::as_str)));
}

#[test]
fn every_package_says_who_it_is() {
    let of = |(folder, package)| {
        manifest_faults(folder, package, read(&format!("{folder}/Cargo.toml")).as_deref())
    };
    demand_none(PACKAGES.into_iter().flat_map(of).collect());
}

#[test]
fn every_manifest_belongs_to_a_package_of_the_house() {
    let known = |path: &str| {
        path == "Cargo.toml"
            || path.starts_with("tests/fuzz/")
            || PACKAGES.iter().any(|(folder, _)| path == format!("{folder}/Cargo.toml"))
    };
    let paths = tree::paths();
    let manifests = paths.iter().filter(|path| *path == "Cargo.toml" || path.ends_with("/Cargo.toml"));
    demand_none(
        manifests.filter(|path| !known(path)).map(|path| format!("{path} is no package of ours")).collect(),
    );
}

#[test]
fn every_source_says_what_it_is_about() {
    demand_none(tree::files(tree::is_source).iter().filter_map(undocumented).collect());
}

#[test]
fn nothing_is_marked_unfinished() {
    demand_none(tree::files(is_prose_or_program).iter().flat_map(unfinished).collect());
}

#[test]
fn no_path_of_one_machine_stands_in_the_tree() {
    demand_none(tree::files(is_prose_or_program).iter().flat_map(machine_paths).collect());
}

#[test]
fn the_changelog_speaks_of_this_version() {
    demand_none(changelog_faults(&read("CHANGELOG.md").unwrap_or_default()));
}

#[test]
fn the_toolchain_is_the_least_rust() {
    demand_none(toolchain_faults(&read("Cargo.toml").unwrap(), &read("rust-toolchain.toml").unwrap()));
}

#[test]
fn every_licence_text_is_there() {
    assert!(read("LICENSE-APACHE").unwrap().contains("Version 2.0, January 2004"));
    assert!(read("LICENSE-MIT").unwrap().contains("Permission is hereby granted, free of charge"));
    assert!(read("Cargo.toml").unwrap().contains("license = \"MIT OR Apache-2.0\""));
    assert!(read("python/pyproject.toml").unwrap().contains("license = \"MIT OR Apache-2.0\""));
}

#[test]
fn every_step_of_the_run_is_taken() {
    let paths = tree::paths();
    demand_none(step_faults(
        &read("tests/run").unwrap(),
        paths.iter().filter_map(|p| p.strip_prefix("tests/steps/")),
    ));
}

#[test]
fn planted_strays_are_found() {
    let whole = || TOP.into_iter().chain([".gitignore", "crates/chem/src/lib.rs"]);
    assert_eq!(top_faults(whole()), Vec::<String>::new());
    demand_one(&top_faults(whole().chain(["notes/idea.md"])), "notes does not belong");
    demand_one(&top_faults(whole().filter(|name| *name != "README.md")), "README.md is missing");
    let manifest = format!("[package]\nname = \"a\"\ndescription = \"d\"\n{}\n", SHARED_LINES.join("\n"));
    assert_eq!(manifest_faults("crates/a", "a", Some(&manifest)), Vec::<String>::new());
    demand_one(
        &manifest_faults("crates/a", "a", Some(&manifest.replace("license.", "licence."))),
        "lacks: license",
    );
    demand_one(
        &manifest_faults("crates/a", "a", Some(&manifest.replace("description", "about"))),
        "description",
    );
    demand_one(&manifest_faults("crates/a", "a", None), "missing");
    demand_one(&changelog_faults("# Changelog\n## 0.1.0\n## 0.0.9\n- x\n"), "no filled section");
    assert_eq!(changelog_faults("# Changelog\n\n## Unreleased\n\n- Blends.\n"), Vec::<String>::new());
    demand_one(&toolchain_faults("rust-version = \"1.95\"", "channel = \"1.96.0\""), "1.96.0");
    demand_one(&step_faults("ALL_STEPS=(fmt rust)\n", ["fmt", "rust", "idle"].into_iter()), "idle");
    demand_one(&step_faults("ALL_STEPS=(fmt rust)\n", ["fmt"].into_iter()), "rust");
}

#[test]
fn planted_words_are_found() {
    let file = |text: String| tree::File { path: "a.rs".to_owned(), text };
    let planted = [["TO", "DO"].concat(), ["FIX", "ME"].concat(), ["todo", "!()"].concat()];
    for mark in planted {
        demand_one(&unfinished(&file(format!("fn a() {{\n    // {mark}: later\n}}\n"))), "a.rs:2");
    }
    assert_eq!(unfinished(&file(format!("let {}S = 1;\n", ["TO", "DO"].concat()))), Vec::<String>::new());
    for home in ["home", "root", "work"] {
        demand_one(&machine_paths(&file(format!("open(\"/{home}/a/b\")\n"))), home);
    }
    assert_eq!(
        machine_paths(&file("get(\"/v1/home/a\") ~/home/x tests/home/y\n".to_owned())),
        Vec::<String>::new()
    );
    assert!(undocumented(&file("use std::fmt;\n".to_owned())).is_some());
    assert!(undocumented(&file("//! What it is.\n".to_owned())).is_none());
}
