//! Help, completions, the manual page, and wrong usage.

use crate::room::Room;

#[test]
fn each_shell_gets_its_completions() {
    let room = Room::new();
    for shell in ["bash", "elvish", "fish", "powershell", "zsh"] {
        let said = room.scullery(&["completions", shell]);
        assert_eq!(said.code, Some(0), "{shell}");
        assert!(
            said.out.contains("repeats") && said.out.contains("completions"),
            "{shell}"
        );
    }
}

#[test]
fn the_manual_page_names_every_command_and_option() {
    let page = Room::new().scullery(&["man"]).out.replace("\\-", "-");
    let words = [
        "check",
        "new",
        "schema",
        "completions",
        "man",
        "--repeats",
        "--seed",
        "--threads",
        "--out",
        "--units",
        "--json",
        "--quiet",
        "--strict",
        "compare",
        "headroom",
        "vary",
        "--change",
        "--until-sure",
        "--demo",
    ];
    for word in words {
        assert!(page.contains(word), "{word}");
    }
}

#[test]
fn wrong_usage_ends_with_two_and_a_word_on_standard_error() {
    let room = Room::new();
    for arguments in [
        &["rnu"][..],
        &["run", "--repeats", "0"],
        &["run", "--units", "ells"],
        &["run", "a.toml", "--demo", "university"],
        &["run", "--demo", "nosuch"],
        &["new"],
    ] {
        let said = room.scullery(arguments);
        assert_eq!(
            (said.code, said.out.as_str()),
            (Some(2), ""),
            "{arguments:?}: {said:?}"
        );
        assert!(!said.err.is_empty(), "{arguments:?}");
    }
    assert!(room.names().is_empty());
}

#[test]
fn the_help_tells_the_exit_codes() {
    let said = Room::new().scullery(&["run", "--help"]);
    assert!(
        said.code == Some(0) && said.out.contains("Exit codes: 0 done"),
        "{said:?}"
    );
}
