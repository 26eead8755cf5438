//! The words after a chore's name: a handful of options, no more.

use crate::Outcome;

/// Words not yet asked for.
pub(crate) struct Arguments(Vec<String>);

impl Arguments {
    pub(crate) fn new(words: impl Iterator<Item = String>) -> Self {
        Self(words.collect())
    }

    /// Whether the switch was given; takes it away.
    pub(crate) fn switch(&mut self, name: &str) -> bool {
        let before = self.0.len();
        self.0.retain(|word| word != name);
        self.0.len() < before
    }

    /// The value of `--name VALUE` or `--name=VALUE`; takes both words away.
    pub(crate) fn value(&mut self, name: &str) -> Outcome<Option<String>> {
        let with_equals = format!("{name}=");
        let Some(at) =
            self.0.iter().position(|word| word == name || word.starts_with(&with_equals))
        else {
            return Ok(None);
        };
        let word = self.0.remove(at);
        if let Some(value) = word.strip_prefix(&with_equals) {
            return Ok(Some(value.to_owned()));
        }
        match self.0.get(at) {
            Some(value) if !value.starts_with("--") => Ok(Some(self.0.remove(at))),
            _ => Err(format!("`{name}` wants a value after it")),
        }
    }

    /// Nothing may be left once every option has been asked for.
    pub(crate) fn finish(self, usage: &str) -> Outcome {
        match self.0.first() {
            None => Ok(()),
            Some(word) => Err(format!("`{word}` is not understood here\n\n{usage}")),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Arguments;

    fn words(text: &str) -> Arguments {
        Arguments::new(text.split_whitespace().map(str::to_owned))
    }

    #[test]
    fn a_value_may_follow_its_name_or_an_equals_sign() {
        assert_eq!(words("--into here").value("--into"), Ok(Some("here".to_owned())));
        assert_eq!(words("--into=here").value("--into"), Ok(Some("here".to_owned())));
        assert_eq!(words("").value("--into"), Ok(None));
    }

    #[test]
    fn a_name_without_its_value_is_refused() {
        let wanted = Err("`--into` wants a value after it".to_owned());
        assert_eq!(words("--into").value("--into"), wanted);
        assert_eq!(words("--into --check").value("--into"), wanted);
    }

    #[test]
    fn a_word_nobody_asked_for_is_refused() {
        let mut arguments = words("--check --chek");
        assert!(arguments.switch("--check"));
        assert_eq!(
            arguments.finish("usage"),
            Err("`--chek` is not understood here\n\nusage".to_owned())
        );
    }
}
