//! The program among other programs: pipes, completions, help.

use std::io::Read;
use std::process::Stdio;

use crate::run::{command, good, run};

#[test]
fn a_reader_that_has_enough_is_no_error() {
    for args in [
        &["choose"][..],
        &["sweep", "--travel=-50:50:0.01", "--csv"],
        &["new", "links"],
        &["choose", "--json"],
    ] {
        let mut child = command(args).stdout(Stdio::piped()).stderr(Stdio::piped()).spawn().unwrap();
        // Read one byte and close, as `head` does.
        let mut out = child.stdout.take().unwrap();
        let _ = out.read(&mut [0]).unwrap();
        drop(out);
        let mut err = String::new();
        child.stderr.take().unwrap().read_to_string(&mut err).unwrap();
        let status = child.wait().unwrap();
        assert_eq!(err, "", "{args:?}");
        assert!(status.code().is_none_or(|c| c == 0), "{args:?}: {status}");
    }
}

#[test]
fn completions_for_the_common_shells() {
    for (shell, sign) in
        [("bash", "complete -F"), ("zsh", "#compdef soapstone"), ("fish", "complete -c soapstone")]
    {
        let script = good(&["completions", shell]);
        assert!(script.contains(sign), "{shell}: {}", script.lines().next().unwrap_or_default());
        for word in ["choose", "sweep", "holes", "explain", "want", "travel"] {
            assert!(script.contains(word), "{shell} knows {word}");
        }
    }
    assert_eq!(run(&["completions", "abacus"]).code, Some(2));
}

#[track_caller]
fn check_help(command: &str, options: &[&str]) {
    for flag in ["--help", "-h"] {
        let help = good(&[command, flag]);
        for option in options {
            assert!(help.contains(option), "{command} {flag} names {option}");
        }
    }
}

#[test]
fn help_names_every_option() {
    check_help("choose", &["[CAR]", "--axle", "--travels", "--at", "--json", "--csv"]);
    check_help("sweep", &["--axle", "--setup", "--at", "--travel", "--roll", "--rack", "--json", "--csv"]);
    check_help("holes", &["--axle", "--plate", "--want", "anti-lift=30,50,70", "--json", "--csv"]);
    check_help("check", &["<CAR>", "--json"]);
    check_help("explain", &["[QUANTITY]", "--axle", "--setup", "--at", "--travel", "--element", "--json"]);
    check_help("new", &["<KIND>", "five-link", "trailing-blade", "--units", "--json"]);
    check_help("completions", &["bash", "zsh", "fish"]);
    let help = good(&["--help"]);
    for command in ["choose", "sweep", "holes", "check", "explain", "new", "completions"] {
        assert!(help.contains(command), "{command}");
    }
    assert!(help.contains("not an approval"));
    assert!(good(&["--version"]).starts_with("soapstone "));
}

#[test]
fn colours_are_for_terminals_and_for_who_asks() {
    // `run` refuses escapes when piped; asked for, they come.
    let asked = command(&["choose"]).env("CLICOLOR_FORCE", "1").output().unwrap();
    assert!(String::from_utf8(asked.stdout).unwrap().contains('\u{1b}'));
}

#[test]
fn every_listed_quantity_can_be_explained() {
    let list = crate::run::json(&["explain", "--json"]);
    for end in ["front", "rear"] {
        for quantity in list[end].as_array().unwrap() {
            let name = quantity["quantity"].as_str().unwrap();
            let text = good(&["explain", name, "--axle", end]);
            for part in ["what it is", "formula", "this car", "source", "it does", "it does not"] {
                assert!(text.contains(part), "{name}: {part}");
            }
            let worked = crate::run::json(&["explain", name, "--axle", end, "--json"]);
            assert_eq!(worked["quantity"], name);
            for key in ["definition", "formula", "substituted", "source", "does", "does_not"] {
                assert!(worked[key].as_str().is_some_and(|s| !s.is_empty()), "{name}: {key}");
            }
        }
    }
}
