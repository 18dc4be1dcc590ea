//! The files of the tree as git sees them: tracked ones and new ones that nothing ignores.

use std::path::{Path, PathBuf};
use std::process::Command;

/// One text file of the tree.
pub struct File {
    /// Path from the root, with `/`.
    pub path: String,
    /// What stands in it.
    pub text: String,
}

/// The root of the checkout.
pub fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().unwrap().to_owned()
}

/// The paths of all files, from the root, in order.
pub fn paths() -> Vec<String> {
    let listed = Command::new("git")
        .args(["ls-files", "-z", "--cached", "--others", "--exclude-standard"])
        .current_dir(root())
        .output()
        .expect("git is on the path");
    assert!(listed.status.success(), "{}", String::from_utf8_lossy(&listed.stderr));
    let text = String::from_utf8(listed.stdout).unwrap();
    let mut paths: Vec<String> = text.split_terminator('\0').map(str::to_owned).collect();
    // A file removed from disk but not yet from the index is no file of the tree.
    paths.retain(|path| root().join(path).exists());
    paths.sort();
    paths.dedup();
    assert!(paths.len() > 20, "the tree has only {} files", paths.len());
    paths
}

/// The text files whose path is wanted; a file that is not UTF-8 is left out.
pub fn files(wanted: impl Fn(&str) -> bool) -> Vec<File> {
    let read = |path: String| Some(File { text: std::fs::read_to_string(root().join(&path)).ok()?, path });
    paths().into_iter().filter(|path| wanted(path)).filter_map(read).collect()
}

/// Whether a path is a Rust source of the house (not a test of a crate, not a bench).
pub fn is_source(path: &str) -> bool {
    let of_a_crate = path.starts_with("crates/") || path.starts_with("python/src/");
    of_a_crate && path.ends_with(".rs") && !is_test_code(path)
}

/// Whether a path holds nothing but tests, benches or examples.
pub fn is_test_code(path: &str) -> bool {
    let folder = |name: &str| path.contains(&format!("/{name}/"));
    folder("tests") || folder("benches") || folder("examples") || path.ends_with("/tests.rs")
}

/// Whether a mark stands in a line as a word of its own.
pub fn has_word(line: &str, mark: &str) -> bool {
    let edge = |sign: Option<char>| sign.is_none_or(|sign| !(sign.is_alphanumeric() || sign == '_'));
    line.match_indices(mark).any(|(at, _)| {
        let open_end = mark.ends_with(['!', '(']);
        edge(line[..at].chars().next_back()) && (open_end || edge(line[at + mark.len()..].chars().next()))
    })
}
