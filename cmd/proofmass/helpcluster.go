package main

const helpSlice = `proofmass slice K/N DIR [flags]

Makes slices K, K+N, K+2N ... of the round that is open in DIR, those that are
whole are left. So N of these, on one machine or many that see the same folder,
make a round; proofmass join opens the next. Each slice appears whole under its
name or not at all; whoever makes one twice writes the same bytes.

  --round R     of this round, as join names it, not of the last that is open
  --workers N   how many processors to use (default: all)
  --nice N      give way to other programs, 1 to 19 (most)
  --wait S      seconds to wait until round R is seen (default 60): a network
                file system may show a new file late

Exit codes: 0 all of them are there; 3 no round is open yet, or it was stopped.

  proofmass slice 3/8 night
`

const helpJoin = `proofmass join STUDY --out DIR [flags]
proofmass join DIR [flags]

Joins the slices that are made and opens the next round, or finishes the result
and prints the answer, as run does. Exit code 3 says that another round is due:

  while proofmass join my.yaml --out night; [ $? = 3 ]; do
    seq 8 | xargs -P 8 -I K proofmass slice K/8 night --workers 1
  done

(make, cron and other schedulers: see README.)

  --wait S        seconds to wait for slices of a round that was open before
                  (default 60): a network file system may show a new file late
  --out DIR       the folder, where a study is given
  --rows N        rows instead of the study's, as for run
  --seed S        seed instead of the study's
  --read FOLDER   used files may also come from this folder (repeatable)
  --workers N     how many processors to use (default: all)
  --nice N        give way to other programs, 1 to 19 (most)
  --compress      packs samples/, as for run
  --full          all that there is to tell, not the short answer
  --json          the answer for machines

  proofmass join night
`

const helpSubmit = `proofmass submit STUDY --out DIR [flags]
proofmass submit DIR [flags]

Runs a study on Slurm: joins what is made, submits an array job for what is
missing of the round that is due, and a job that joins it when the array ends
and submits the next. So it goes on by itself until the answer stands in DIR.
Given again it submits what is missing. DIR and this program must be seen by
all nodes under the same path, and jobs must be allowed to submit jobs.

One slice made on the spot gives the time; a task of the array takes about ten
minutes. A round that takes less than 20 s is made on the spot.

  --dry-run       opens the round, times a slice and prints both batch scripts;
                  submits nothing
  --with OPTION   an option of sbatch for each job, in its long form:
                  --with=--partition=long (repeatable)
  --tasks N       an array of so many tasks, whatever a slice takes
  --attempt A/R   what a join's script passes on: round R was submitted A times;
                  after three the slices that are missing are named
  --wait S        seconds to wait for slices of a round that was open before
  --out DIR       the folder, where a study is given
  --rows N        rows instead of the study's, as for run
  --seed S        seed instead of the study's
  --read FOLDER   used files may also come from this folder (repeatable)
  --compress      packs samples/, as for run
  --full          all that there is to tell, not the short answer
  --json          the answer for machines

  proofmass submit my.yaml --out night --with=--partition=long
`
