//! The whole program is killed two hundred times while it is changing a car: what it said is kept is kept.

use std::sync::atomic::{AtomicU32, Ordering};
use std::time::{Duration, Instant};

use crate::http::{host, token};
use crate::served::{Served, car};

const KILLS: u32 = 200;

/// Programs that are killed at the same time, each with a car of its own.
const LANES: u32 = 4;

/// Longest that a program lives once it has begun to change the car [ms].
const LIFE: u64 = 60;

/// Height of the point that is changed, as the file has it; every edit is a tenth of a millimetre more.
fn height(text: &str) -> u32 {
    let part = text.split("[rear.link.toe]").nth(1).expect("the link is there");
    let line = part.lines().find(|l| l.starts_with("body")).expect("its body end is there");
    let inner = line.split('[').nth(1).and_then(|l| l.split(']').next()).expect("three coordinates");
    let z: f64 = inner.split(',').nth(2).expect("a height").trim().parse().expect("a number");
    (z * 10.0).round() as u32
}

/// Edits until the program dies; the last height that was answered with a yes.
fn edit_until_dead(to: &str, token: &str, mut at: u32, accepted: &AtomicU32) {
    use std::io::{Read, Write};
    let Ok(mut stream) = std::net::TcpStream::connect(to) else { return };
    let mut buffer = [0u8; 4096];
    loop {
        at += 1;
        let body = format!(
            r#"{{"edit":"coordinate","place":{{"point":"rear.link.toe.body"}},"coordinate":"z","text":"{:.1}"}}"#,
            f64::from(at) / 10.0
        );
        let head = format!(
            "POST /edit HTTP/1.1\r\nhost: {to}\r\nx-soapstone-token: {token}\r\ncontent-type: application/json\r\n\
             content-length: {}\r\n\r\n",
            body.len()
        );
        if stream.write_all(format!("{head}{body}").as_bytes()).is_err() {
            return;
        }
        let mut answer = String::new();
        while !answer.contains("\"mistakes\"") {
            match stream.read(&mut buffer) {
                Ok(n) if n > 0 => answer.push_str(&String::from_utf8_lossy(&buffer[..n])),
                _ => return,
            }
        }
        assert!(answer.contains("\"ok\":true"), "{answer}");
        accepted.store(at, Ordering::SeqCst);
    }
}

#[test]
fn what_was_accepted_is_in_the_file_after_a_kill() {
    let begun = Instant::now();
    let edits: u32 = std::thread::scope(|scope| {
        let lanes: Vec<_> = (0..LANES).map(|lane| scope.spawn(move || one_lane(lane))).collect();
        lanes.into_iter().map(|l| l.join().expect("a lane")).sum()
    });
    println!("{KILLS} kills, {edits} edits, {:.1} s", begun.elapsed().as_secs_f64());
    assert!(edits > KILLS, "the kills came before the edits");
}

fn one_lane(lane: u32) -> u32 {
    let (folder, file) = car();
    let first = std::fs::read_to_string(&file).expect("a car");
    let mut edits = 0;
    // Far from the height that the demo has, so that its digits change too; below a metre.
    let mut at = height(&first);
    for round in 0..KILLS / LANES {
        let mut served = Served::of(file.clone(), &[]);
        assert!(served.printed.contains("choice table"), "the file makes a car:\n{}", served.printed);
        let to = host(&served);
        let token = token(&to);
        let accepted = AtomicU32::new(at);
        // Spread over the time that an edit takes and several of them.
        let life = Duration::from_millis(u64::from(lane * 7919 + round * 104_729) % LIFE);
        std::thread::scope(|scope| {
            let editor = scope.spawn(|| edit_until_dead(&to, &token, at, &accepted));
            std::thread::sleep(life);
            served.kill();
            editor.join().expect("every answer is a yes");
        });
        let text = std::fs::read_to_string(&file).expect("the car file");
        let (kept, told) = (height(&text), accepted.load(Ordering::SeqCst));
        assert!(kept == told || kept == told + 1, "told {told}, kept {kept}");
        assert_eq!(text.lines().count(), first.lines().count(), "a whole file");
        assert_eq!(text.matches('#').count(), first.matches('#').count(), "every comment is there");
        edits += told - at;
        at = kept;
    }
    let _ = std::fs::remove_dir_all(&folder);
    edits
}
