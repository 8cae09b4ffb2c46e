//! `tellshelf check`: says what works, and how to mend what doesn't.

use clap::Args;
use serde_json::json;

use super::error::CliError;
use super::output::write_line;
use super::{ConversationOptions, Ending};
use crate::ear::{EarError, Microphone, Models, Moonshine, Vosk};
use crate::stock::Stock;

#[derive(Debug, Args)]
pub(super) struct Check {
    #[command(flatten)]
    conversation: ConversationOptions,
}

/// Whether a part works, and what there is to say of it.
struct Report {
    part: &'static str,
    works: Result<String, String>,
    /// Whether the tool can do without it.
    optional: bool,
}

impl Check {
    pub fn run(self) -> Result<Ending, CliError> {
        let models = Models::find();
        let (english, closer) = moonshine(&models);
        let mut reports = vec![
            Report {
                part: "English recogniser",
                works: english,
                optional: false,
            },
            Report {
                part: "Closer hearing",
                works: closer,
                optional: true,
            },
            Report {
                part: "Vosk recogniser",
                works: vosk(&models),
                optional: true,
            },
            Report {
                part: "Microphone",
                works: microphone(),
                optional: false,
            },
        ];
        let speech = if self.conversation.mute {
            Ok("not tried, since you asked for --mute".to_owned())
        } else {
            crate::voice::check().map_err(|e| e.to_string())
        };
        reports.push(Report {
            part: "Speech",
            works: speech,
            optional: false,
        });
        reports.push(Report {
            part: "Stock",
            works: self.stock(),
            optional: false,
        });
        let mut ending = Ending::Well;
        for report in &reports {
            if report.works.is_err() && !report.optional {
                ending = Ending::WithFailures;
            }
            self.write(report)?;
        }
        Ok(ending)
    }

    fn write(&self, report: &Report) -> Result<(), CliError> {
        let (works, says) = match &report.works {
            Ok(says) => (true, says),
            Err(says) => (false, says),
        };
        if self.conversation.json {
            let line = json!({ "part": report.part, "works": works, "says": says });
            return Ok(write_line(&line.to_string())?);
        }
        let word = match (works, report.optional) {
            (true, _) => "works",
            (false, false) => "doesn't work",
            (false, true) => "not there, which is fine",
        };
        Ok(write_line(&format!("{}: {word}: {says}.", report.part))?)
    }

    /// Looks at the stock's file without making one.
    fn stock(&self) -> Result<String, String> {
        let file = self.conversation.stock_file().map_err(|e| e.to_string())?;
        if !file.exists() {
            return Ok(format!(
                "{} isn't there yet, and is made at the first word",
                file.display()
            ));
        }
        let stock = Stock::open(&file).map_err(|e| e.to_string())?;
        stock.check().map_err(|e| e.to_string())?;
        let things = stock.shelf().map_err(|e| e.to_string())?.len();
        Ok(format!("{}, lots on the shelf: {things}", file.display()))
    }
}

/// Whether the small English model works, and the larger one for what is hard to hear.
fn moonshine(models: &Models) -> (Result<String, String>, Result<String, String>) {
    match Moonshine::load(models) {
        Ok(moonshine) => {
            let closer = moonshine.hears_again().map_err(ToString::to_string);
            let closer = closer.map(|()| "the larger model hears what is in doubt".to_owned());
            (Ok("moonshine is ready".to_owned()), closer)
        }
        Err(error) => (
            Err(error.to_string()),
            Err("there is no hearing at all".to_owned()),
        ),
    }
}

fn vosk(models: &Models) -> Result<String, String> {
    let languages = models.vosk_languages();
    if languages.is_empty() {
        return Err("no Vosk model is installed".to_owned());
    }
    for language in &languages {
        Vosk::load(models, language).map_err(|e| e.to_string())?;
    }
    Ok(format!("ready for {}", languages.join(", ")))
}

fn microphone() -> Result<String, String> {
    let open = || -> Result<String, EarError> { Ok(Microphone::open()?.describe().to_owned()) };
    open().map_err(|e| e.to_string())
}
