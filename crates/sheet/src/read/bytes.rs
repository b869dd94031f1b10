//! From bytes to text.

use core::ops::Range;

use crate::MAX_BYTES;
use crate::fault::Fault;
use crate::problem::{Finding, Findings};

/// More bad bytes than this, and more than one in this many: the file is no text.
const MANY: usize = 20;

/// The text, with a replacement character for what is not UTF-8; nothing where it is no text.
pub(crate) fn decode(bytes: &[u8], findings: &mut Findings) -> Option<String> {
    let mut whole = |fault| findings.push(finding(0..0, fault));
    if bytes.len() > MAX_BYTES {
        whole(Fault::TooLarge);
        return None;
    }
    if let Ok(text) = core::str::from_utf8(bytes) {
        let count = bytes.iter().filter(|&&byte| byte == 0).count();
        if count > MANY || count > 0 && bytes.iter().any(|byte| (1..=8).contains(byte)) {
            whole(Fault::NotText);
            return None;
        }
        let mut mended = String::with_capacity(text.len());
        for (part, character) in text.split('\0').enumerate() {
            if part > 0 {
                let start = mended.len();
                mended.push(char::REPLACEMENT_CHARACTER);
                let fault = Fault::UnseenCharacter { character: '\0' };
                findings.push(finding(start..mended.len(), fault));
            }
            mended.push_str(character);
        }
        return Some(mended);
    }
    if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
        whole(Fault::Utf16);
        return None;
    }
    let bad = bytes
        .utf8_chunks()
        .filter(|chunk| !chunk.invalid().is_empty())
        .count();
    if bytes.contains(&0) || bad > MANY && bad * MANY > bytes.len() {
        whole(Fault::NotText);
        return None;
    }
    let mut text = String::with_capacity(bytes.len());
    for chunk in bytes.utf8_chunks() {
        text.push_str(chunk.valid());
        if let Some(&byte) = chunk.invalid().first() {
            let start = text.len();
            text.push(char::REPLACEMENT_CHARACTER);
            findings.push(finding(start..text.len(), Fault::NotUtf8 { byte }));
        }
    }
    Some(text)
}

fn finding(span: Range<usize>, fault: Fault) -> Finding {
    Finding {
        source: 0,
        span,
        key: None,
        fault,
    }
}
