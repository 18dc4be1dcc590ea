//! Which package may know which. The trees are cargo's own, so that a detour through a third package shows too.

use crate::{demand_none, demand_one, tree};
use std::process::Command;

/// Packages that the chemistry may name itself: numbers and error types, nothing else.
const NUMERICAL: [&str; 6] = ["libm", "thiserror", "clarabel", "microlp", "nalgebra", "num-dual"];

/// One rule: what a package must never reach through normal dependencies. A name that ends in `*` is a prefix.
struct Never {
    package: &'static str,
    all_features: bool,
    reaches: &'static [&'static str],
}

const RULES: [Never; 8] = [
    Never {
        package: "springwright-chem",
        all_features: true,
        reaches: &[
            "springwright-*",
            "springwright",
            "actix*",
            "reqwest",
            "pyo3*",
            "sqlx*",
            "serde_json",
            "tokio",
            "rayon*",
            "log",
            "tracing*",
            "time",
            "chrono",
            "jiff",
            "rand",
            "getrandom",
        ],
    },
    Never {
        package: "springwright-contract",
        all_features: true,
        reaches: &[
            "springwright-records",
            "springwright-client",
            "springwright-python",
            "springwright",
            "actix*",
            "reqwest",
            "pyo3*",
            "sqlx*",
        ],
    },
    Never { package: "springwright-contract", all_features: false, reaches: &["springwright-chem"] },
    Never {
        package: "springwright-records",
        all_features: true,
        reaches: &[
            "springwright-chem",
            "springwright-client",
            "springwright-python",
            "springwright",
            "actix*",
            "pyo3*",
        ],
    },
    Never {
        package: "springwright-client",
        all_features: true,
        reaches: &[
            "springwright-chem",
            "springwright-records",
            "springwright-python",
            "springwright",
            "actix*",
            "pyo3*",
            "sqlx*",
        ],
    },
    Never {
        package: "springwright-python",
        all_features: true,
        reaches: &[
            "springwright-records",
            "springwright-client",
            "springwright",
            "actix*",
            "reqwest",
            "sqlx*",
        ],
    },
    Never {
        package: "springwright",
        all_features: true,
        reaches: &["springwright-client", "springwright-python", "pyo3*", "openssl*"],
    },
    Never { package: "springwright-tests", all_features: true, reaches: &["springwright-python", "pyo3*"] },
];

/// What cargo says a package reaches, one name a line.
fn cargo_tree(package: &str, all_features: bool, depth: Option<u32>) -> String {
    let mut command = Command::new(env!("CARGO"));
    command.args(["tree", "--locked", "-p", package, "-e", "normal", "--prefix", "none", "--format", "{p}"]);
    command.args(all_features.then_some("--all-features"));
    command.args(depth.map(|depth| format!("--depth={depth}")));
    let said = command.current_dir(tree::root()).output().unwrap();
    assert!(said.status.success(), "{package}: {}", String::from_utf8_lossy(&said.stderr));
    String::from_utf8(said.stdout).unwrap()
}

/// The names in cargo's answer after the first, which is the package itself.
fn names(tree: &str) -> impl Iterator<Item = &str> {
    tree.lines().skip(1).filter_map(|line| line.split_whitespace().next())
}

fn is_named(name: &str, pattern: &str) -> bool {
    match pattern.strip_suffix('*') {
        Some(start) => name.starts_with(start),
        None => name == pattern,
    }
}

fn faults(rule: &Never, tree: &str) -> Vec<String> {
    let forbidden = |name: &&str| rule.reaches.iter().any(|pattern| is_named(name, pattern));
    let mut found: Vec<&str> = names(tree).filter(forbidden).collect();
    found.sort_unstable();
    found.dedup();
    found.iter().map(|name| format!("{} must not reach {name}", rule.package)).collect()
}

fn strangers(direct: &str) -> Vec<String> {
    let strange = |name: &&str| !NUMERICAL.contains(name);
    names(direct).filter(strange).map(|name| format!("springwright-chem names {name}")).collect()
}

/// `tests` must run in a clone that has nothing beside it.
fn looks_outside(files: &[tree::File]) -> Vec<String> {
    let outside = ["..", "shared"].join("/");
    let faulty = files.iter().filter(|file| file.text.contains(&outside));
    faulty.map(|file| format!("{} names {outside}", file.path)).collect()
}

#[test]
fn no_package_reaches_what_it_must_not() {
    let found =
        RULES.iter().flat_map(|rule| faults(rule, &cargo_tree(rule.package, rule.all_features, None)));
    demand_none(found.collect());
}

#[test]
fn the_chemistry_names_only_numerical_packages() {
    demand_none(strangers(&cargo_tree("springwright-chem", true, Some(1))));
}

#[test]
fn nothing_reads_what_lies_beside_the_checkout() {
    demand_none(looks_outside(&tree::files(|path| {
        path.starts_with("tests/") || path.starts_with("crates/")
    })));
}

#[test]
fn planted_arrows_are_found() {
    let planted = "springwright-client v0.1.0 (/x)\nreqwest v0.13.5\nspringwright-chem v0.1.0 (/y)\n";
    let client = RULES.iter().find(|rule| rule.package == "springwright-client").unwrap();
    demand_one(&faults(client, planted), "must not reach springwright-chem");
    let through = "springwright-contract v0.1.0 (/x)\nserde v1.0.0\nactix-http v3.0.0\n";
    demand_one(&faults(&RULES[1], through), "actix-http");
    demand_one(&strangers("springwright-chem v0.1.0\nlibm v0.2.16\nserde v1.0.0\n"), "serde");
    let text = format!("open(\"../{}\")", ["..", "shared", "x"].join("/"));
    demand_one(&looks_outside(&[tree::File { path: "tests/a.rs".to_owned(), text }]), "tests/a.rs");
}

/// cargo itself says that the service reaches the chemistry: the names are read out of its answer rightly.
#[test]
fn the_trees_are_read_rightly() {
    let service = cargo_tree("springwright", true, None);
    assert!(names(&service).any(|name| name == "springwright-chem"), "{service}");
    assert!(names(&service).any(|name| name == "actix-web"), "{service}");
}
