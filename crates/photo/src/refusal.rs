//! Why a file is not taken in, one kind for each thing the person can do about it.

/// A file that is not taken in at all. Each kind asks something else of the person.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Refusal {
    /// Copy the file again: it holds nothing.
    #[error("\"{name}\" is empty; copy it from the camera again")]
    Empty {
        /// The file's name.
        name: String,
    },
    /// Choose another file: this is no picture.
    #[error("\"{name}\" is not a picture ({looks_like}); JPEG and PNG files are accepted")]
    NotAPicture {
        /// The file's name.
        name: String,
        /// What its first bytes look like.
        looks_like: &'static str,
    },
    /// Set the camera otherwise, or save the picture in another format.
    #[error("\"{name}\": {kind} are not read yet; {remedy}")]
    OtherFormat {
        /// The file's name.
        name: String,
        /// The kind of picture, in the plural.
        kind: &'static str,
        /// What to do instead.
        remedy: &'static str,
    },
    /// Make the file smaller, or raise the limit.
    #[error("\"{name}\" is too large: {what}; accepted: {accepted}")]
    TooLarge {
        /// The file's name.
        name: String,
        /// What was found.
        what: String,
        /// What is accepted.
        accepted: String,
    },
    /// Look at the card or the folder: the file could not be read.
    #[error("\"{name}\" could not be read: {reason}")]
    Unread {
        /// The file's name.
        name: String,
        /// What the reader said.
        reason: String,
    },
}
