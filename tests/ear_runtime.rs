//! The ONNX Runtime library is loaded once for a process, so this test has a process of its own.

use std::path::Path;

use tellshelf::ear::{EarError, Models, Moonshine};

#[test]
fn a_damaged_runtime_is_told_and_a_good_one_works_afterwards() {
    let models = Models::in_folder(Path::new(env!("CARGO_MANIFEST_DIR")).join("models"));
    let place = tempfile::tempdir().unwrap();
    let damaged = Models::in_folder(place.path());
    std::os::unix::fs::symlink(
        models.moonshine().unwrap(),
        place.path().join("moonshine-tiny-en"),
    )
    .unwrap();

    let error = Moonshine::load(&damaged).err().unwrap();
    assert!(matches!(error, EarError::NoModel { .. }), "{error}");

    std::fs::create_dir(place.path().join("lib")).unwrap();
    std::fs::write(
        place.path().join("lib/libonnxruntime.so"),
        "this is no library",
    )
    .unwrap();
    let error = Moonshine::load(&damaged).err().unwrap();
    assert!(matches!(error, EarError::NoRuntime { .. }), "{error}");

    assert!(Moonshine::load(&models).is_ok());
}
