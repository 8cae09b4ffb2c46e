//! Where the fetched models and libraries are.

use std::ffi::OsString;
use std::path::{Path, PathBuf};

use super::EarError;

/// The environment variable that names the folder of models, where it isn't the usual one.
const FOLDER_VARIABLE: &str = "TELLSHELF_MODELS";
/// The usual name of the folder of models.
const FOLDER_NAME: &str = "models";
/// What the folder of each Vosk model begins with; its language follows.
const VOSK_PREFIX: &str = "vosk-";
/// The files that make up the Moonshine model.
const MOONSHINE_FILES: [&str; 3] = [
    "encoder_model.ort",
    "decoder_model_merged.ort",
    "tokenizer.bin",
];

/// The folder that `models-fetch.sh` fills. Making one touches no file; asking it for a model does.
///
/// ```
/// use tellshelf::ear::Models;
/// let models = Models::in_folder("no-such-folder");
/// let error = models.moonshine().unwrap_err();
/// assert!(error.to_string().contains("moonshine"));
/// assert!(error.to_string().ends_with("Run ./models-fetch.sh"));
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Models {
    folder: PathBuf,
}

impl Models {
    /// Finds the folder: the environment variable `TELLSHELF_MODELS` if it is set, else the first
    /// folder `models` on the way up from the running program, else `./models`.
    ///
    /// The walk up makes a built checkout work from any working directory, and after it was moved.
    ///
    /// ```
    /// use tellshelf::ear::Models;
    /// println!("models are looked for in {}", Models::find().folder().display());
    /// ```
    pub fn find() -> Self {
        let program = std::env::current_exe().ok();
        Self::find_from(std::env::var_os(FOLDER_VARIABLE), program.as_deref())
    }

    /// Uses a given folder.
    ///
    /// ```
    /// use tellshelf::ear::Models;
    /// assert_eq!(Models::in_folder("elsewhere").folder().to_str(), Some("elsewhere"));
    /// ```
    pub fn in_folder(folder: impl Into<PathBuf>) -> Self {
        Self {
            folder: folder.into(),
        }
    }

    fn find_from(variable: Option<OsString>, program: Option<&Path>) -> Self {
        if let Some(folder) = variable.filter(|folder| !folder.is_empty()) {
            return Self::in_folder(folder);
        }
        program
            .into_iter()
            .flat_map(|program| program.ancestors().skip(1))
            .map(|above| above.join(FOLDER_NAME))
            .find(|folder| folder.is_dir())
            .map_or_else(|| Self::in_folder(FOLDER_NAME), Self::in_folder)
    }

    /// The folder itself, whether it exists or not.
    pub fn folder(&self) -> &Path {
        &self.folder
    }

    /// The folder of the Moonshine model.
    ///
    /// # Errors
    /// [`EarError::NoModel`] if one of its files is missing.
    pub fn moonshine(&self) -> Result<PathBuf, EarError> {
        let folder = self.folder.join("moonshine-tiny-en");
        if MOONSHINE_FILES
            .iter()
            .all(|file| folder.join(file).is_file())
        {
            Ok(folder)
        } else {
            Err(EarError::NoModel {
                recogniser: super::moonshine::NAME,
                folder,
            })
        }
    }

    /// The folder of the larger Moonshine model, which can be missing: the small one hears alone then.
    ///
    /// # Errors
    /// [`EarError::NoModel`] if one of its files is missing.
    pub fn moonshine_base(&self) -> Result<PathBuf, EarError> {
        let folder = self.folder.join("moonshine-base-en");
        // Its tokens are those of the small one.
        let mut networks = MOONSHINE_FILES.iter().take(2);
        if networks.all(|file| folder.join(file).is_file()) {
            Ok(folder)
        } else {
            Err(EarError::NoModel {
                recogniser: super::moonshine::NAME,
                folder,
            })
        }
    }

    /// Where a file is kept that is made of a fetched one, at its first use.
    pub(super) fn made_ready(&self, name: &str) -> PathBuf {
        self.folder.join("ready").join(name)
    }

    /// The ONNX Runtime library, which runs the Moonshine model.
    ///
    /// # Errors
    /// [`EarError::NoModel`] if it is missing.
    pub fn onnx_runtime(&self) -> Result<PathBuf, EarError> {
        let file = self.folder.join("lib").join("libonnxruntime.so");
        if file.is_file() {
            Ok(file)
        } else {
            let folder = self.folder.join("lib");
            Err(EarError::NoModel {
                recogniser: super::moonshine::NAME,
                folder,
            })
        }
    }

    /// The folder of the Vosk model for a language: `vosk-ko` for both `ko` and `ko-KR`.
    ///
    /// Only the language counts, not the region, because one installed model serves all regions
    /// better than none.
    ///
    /// ```
    /// use tellshelf::ear::Models;
    /// assert!(Models::in_folder("no-such-folder").vosk("en-US").is_err());
    /// ```
    ///
    /// # Errors
    /// [`EarError::NoModel`] if there is none.
    pub fn vosk(&self, language_tag: &str) -> Result<PathBuf, EarError> {
        let language = language_of(language_tag);
        let folder = self.folder.join(format!("{VOSK_PREFIX}{language}"));
        // Only letters, so that no tag reaches outside the folder of models.
        let is_language = !language.is_empty() && language.chars().all(|c| c.is_ascii_alphabetic());
        if is_language && folder.is_dir() {
            Ok(folder)
        } else {
            Err(EarError::NoModel {
                recogniser: super::vosk::NAME,
                folder,
            })
        }
    }

    /// The languages that have a Vosk model here, in alphabetical order.
    ///
    /// ```
    /// use tellshelf::ear::Models;
    /// assert!(Models::in_folder("no-such-folder").vosk_languages().is_empty());
    /// ```
    pub fn vosk_languages(&self) -> Vec<String> {
        let mut languages: Vec<String> = std::fs::read_dir(&self.folder)
            .into_iter()
            .flatten()
            .flatten()
            .filter_map(|entry| {
                let name = entry.file_name().into_string().ok()?;
                name.strip_prefix(VOSK_PREFIX).map(str::to_owned)
            })
            .filter(|language| self.vosk(language).is_ok())
            .collect();
        languages.sort();
        languages
    }
}

/// The language of a tag such as `en-US`, in lower case: `en`.
pub(super) fn language_of(language_tag: &str) -> String {
    language_tag
        .split(['-', '_'])
        .next()
        .unwrap_or_default()
        .to_ascii_lowercase()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_environment_variable_wins() {
        let here = tempfile::tempdir().unwrap();
        std::fs::create_dir(here.path().join("models")).unwrap();
        let program = here.path().join("tellshelf");
        let models = Models::find_from(Some("elsewhere".into()), Some(&program));
        assert_eq!(models.folder(), Path::new("elsewhere"));
    }

    #[test]
    fn an_empty_environment_variable_is_no_folder() {
        assert_eq!(
            Models::find_from(Some("".into()), None).folder(),
            Path::new("models")
        );
    }

    #[test]
    fn the_nearest_folder_above_the_program_is_found() {
        let root = tempfile::tempdir().unwrap();
        std::fs::create_dir_all(root.path().join("target/debug/deps")).unwrap();
        std::fs::create_dir(root.path().join("models")).unwrap();
        let program = root.path().join("target/debug/deps/tellshelf");
        let models = Models::find_from(None, Some(&program));
        assert_eq!(models.folder(), root.path().join("models"));
    }

    #[test]
    fn the_region_of_a_tag_is_ignored() {
        let root = tempfile::tempdir().unwrap();
        std::fs::create_dir(root.path().join("vosk-ko")).unwrap();
        let models = Models::in_folder(root.path());
        for tag in ["ko", "ko-KR", "KO_kr"] {
            assert_eq!(
                models.vosk(tag).unwrap(),
                root.path().join("vosk-ko"),
                "{tag}"
            );
        }
        assert!(matches!(
            models.vosk("en-US"),
            Err(EarError::NoModel { recogniser: "vosk", folder }) if folder.ends_with("vosk-en")
        ));
    }

    #[test]
    fn a_tag_cannot_reach_outside_the_folder() {
        let root = tempfile::tempdir().unwrap();
        std::fs::create_dir_all(root.path().join("models/vosk-")).unwrap();
        std::fs::create_dir(root.path().join("secret")).unwrap();
        let models = Models::in_folder(root.path().join("models"));
        assert!(models.vosk("/../../secret").is_err());
        assert!(models.vosk("").is_err());
    }

    #[test]
    fn installed_languages_are_listed_in_order() {
        let root = tempfile::tempdir().unwrap();
        for name in ["vosk-ko", "vosk-en", "vosk-", "moonshine-tiny-en"] {
            std::fs::create_dir(root.path().join(name)).unwrap();
        }
        std::fs::write(root.path().join("vosk-de"), "not a folder").unwrap();
        assert_eq!(
            Models::in_folder(root.path()).vosk_languages(),
            ["en", "ko"]
        );
    }

    #[test]
    fn the_larger_model_needs_no_tokens_of_its_own() {
        let root = tempfile::tempdir().unwrap();
        let folder = root.path().join("moonshine-base-en");
        std::fs::create_dir(&folder).unwrap();
        let models = Models::in_folder(root.path());
        std::fs::write(folder.join(MOONSHINE_FILES[0]), "").unwrap();
        assert!(matches!(
            models.moonshine_base(),
            Err(EarError::NoModel { .. })
        ));
        std::fs::write(folder.join(MOONSHINE_FILES[1]), "").unwrap();
        assert_eq!(models.moonshine_base().unwrap(), folder);
    }

    #[test]
    fn a_model_with_a_missing_file_is_no_model() {
        let root = tempfile::tempdir().unwrap();
        let folder = root.path().join("moonshine-tiny-en");
        std::fs::create_dir(&folder).unwrap();
        for file in &MOONSHINE_FILES[..2] {
            std::fs::write(folder.join(file), "").unwrap();
        }
        let models = Models::in_folder(root.path());
        assert!(matches!(
            models.moonshine(),
            Err(EarError::NoModel {
                recogniser: "moonshine",
                ..
            })
        ));
        std::fs::write(folder.join(MOONSHINE_FILES[2]), "").unwrap();
        assert_eq!(models.moonshine().unwrap(), folder);
    }
}
