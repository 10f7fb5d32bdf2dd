#!/bin/sh
# make.sh RANGE DIR: makes of a range, DIR/range: a clone as somebody might be
# sent it who should come to harm. Beside it stands DIR/outside, which nothing
# that is done to the clone may touch. All but what is marked as made afterwards
# comes with git clone.
set -eu
export GIT_CONFIG_GLOBAL=/dev/null GIT_CONFIG_SYSTEM=/dev/null
export GIT_AUTHOR_NAME="Maren Ostrey" GIT_AUTHOR_EMAIL=maren@example.org
export GIT_COMMITTER_NAME="Maren Ostrey" GIT_COMMITTER_EMAIL=maren@example.org
esc=$(printf '\033') nul=$(printf '\302\200') over=$(printf '\342\200\256')

mkdir -p "$2/outside/models" "$2/outside/pages/kept"
cd "$2"
echo theirs >outside/t.yaml
echo theirs >outside/models/theirs.yaml
echo theirs >outside/.secret.yaml-0123abcd
echo theirs >outside/pages/index.html
printf 'kept\nindex.html\n' >outside/pages/pages.txt

cp -R "$1" origin
cd origin
sed 's/^name:.*/name: Evil/' models/skerry-10.yaml >models/evil.yaml
git add -A && git commit -qm "draft"
git tag -a -m released evil/2026

# Links out of the range, in the places of its files and folders.
rm -rf builds bench
ln -s ../outside builds
ln -s ../outside/models bench
mkdir -p heard reviews
ln -sf ../../outside/t.yaml heard/rill-7.yaml
ln -sf ../../outside/t.yaml heard/linked.yaml
ln -sf ../../outside/made reviews/.adding
ln -sf ../../outside/t.yaml models/linked.yaml
ln -sf /dev/zero models/endless.yaml
ln -sf ../../outside/models/new.yaml models/gull-9.yaml
ln -sf ../outside/t.yaml words.yaml
ln -sf /dev/zero .gitignore
ln -sf /dev/zero .gitattributes
ln -sf /dev/zero models/.gitattributes

# Links in the places of what is written for the maker.
ln -s ../outside/page.html page.html
ln -s ../outside/t.yaml sheet.pdf
ln -s ../outside/pages linked-pages
ln -s ../outside plan
mkdir -p pages/kept
echo kept >pages/kept/file
printf 'kept\nindex.html\n' >pages/pages.txt

# Names that are taken for something else.
git mv models/evil.yaml 'models/javascript:alert(1).yaml'
echo 'was: evil' >>'models/javascript:alert(1).yaml'
cp models/skerry-10.yaml 'models/a@b.yaml'
cp models/skerry-10.yaml 'models/a\b.yaml'
cp models/skerry-10.yaml models/con.yaml
cp models/skerry-10.yaml models/Skerry-10.yaml
cp models/skerry-10.yaml "models/$(printf 'bad\377').yaml"
cp models/skerry-10.yaml "models/${esc}[2J.yaml"
cp models/skerry-10.yaml 'models/$(touch${IFS}PWN).yaml'
cp models/skerry-10.yaml 'models/-x.yaml'

# Text that steers a terminal, in specs, remarks, reasons, authors.
sed "s/^name:.*/name: \"Gone${over}enog\"/; s/^job:.*/job: \"${over}kcor\"/" models/skerry-10.yaml >models/turned.yaml
sed 's/^name:.*/name: "\\e]0;owned\\a\\e[2J"/' models/skerry-10.yaml >models/escaped.yaml
sed 's/^name:.*/name: "a\\0b"/' models/skerry-10.yaml >models/zero.yaml
cat >heard/skerry-10.yaml <<END
heard:
  - {release: "2026", date: 2026-03-01, said: "light ${over}thgil"}
END
git add -A
GIT_AUTHOR_NAME="${esc}]0;owned${esc}\\ ${nul}${over}" git commit -q --cleanup=verbatim \
	-m "${esc}]52;c;cHduZWQ=${esc}\\${esc}[2Jthe ${over}nosaer ${nul}" -m "Tell: ${esc}[8mhidden${over}"
git tag -a -m "${esc}[2Jreleased" 'turned/$(touch${IFS}PWN)'
git tag -a -m "${esc}]0;x" "turned/${over}6202"

cd ..
git clone -q origin range
cd range
git config user.name "Maren Ostrey"
git config user.email maren@example.org

# Made afterwards: what an archive could bring, though no clone.
mkfifo models/pipe.yaml .rodlore-fifo
echo edited >>parts.yaml
sed -i 's/^edited$/# edited/' parts.yaml
mkdir -p .git/rodlore
id=$(git rev-parse HEAD)
echo "$id" >../outside/f.lock
printf '../../outside/f %s -\n' "$id" >.git/rodlore/pending
rm -rf ../origin
