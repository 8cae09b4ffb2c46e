//! Lets the linker and the built programs find the Vosk library that `models-fetch.sh` fetched.

use std::path::{Path, PathBuf};
use std::{env, fs};

/// The one library that is linked against. (ONNX Runtime is loaded while running.)
const LIBRARY: &str = "libvosk.so";

fn main() {
    let root = PathBuf::from(variable("CARGO_MANIFEST_DIR"));
    let folder = root.join("models").join("lib");
    let library = folder.join(LIBRARY);
    println!("cargo:rerun-if-changed=build.rs");
    println!("cargo:rerun-if-changed={}", library.display());
    if !library.is_file() {
        println!("cargo::error=models/lib/{LIBRARY} is missing: run ./models-fetch.sh first");
        return;
    }

    // Cargo puts a search path inside the build folder into the environment of whatever it runs.
    // That is the only way that reaches documentation tests, which take no linker arguments.
    let out = PathBuf::from(variable("OUT_DIR"));
    match link(&library, &out.join(LIBRARY)) {
        Ok(()) => println!("cargo:rustc-link-search=native={}", out.display()),
        Err(error) => println!("cargo::error=I can't link to models/lib/{LIBRARY}: {error}"),
    }

    // Programs started without Cargo look beside themselves first, so that a moved checkout still
    // works, and an installed program finds a library installed with it.
    for path in ["$ORIGIN/../../models/lib", "$ORIGIN/../lib/tellshelf"] {
        println!("cargo:rustc-link-arg=-Wl,-rpath,{path}");
    }
    println!("cargo:rustc-link-arg=-Wl,-rpath,{}", folder.display());
}

fn variable(name: &str) -> String {
    env::var(name).unwrap_or_else(|_| panic!("Cargo sets {name} for every build script"))
}

/// A symbolic link, made anew because the checkout may have moved.
fn link(to: &Path, from: &Path) -> std::io::Result<()> {
    if let Err(error) = fs::remove_file(from)
        && error.kind() != std::io::ErrorKind::NotFound
    {
        return Err(error);
    }
    std::os::unix::fs::symlink(to, from)
}
