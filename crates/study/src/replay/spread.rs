//! Means and covariances of a handful of numbers over many lunches, and how likely others are under them.

/// Symmetric positive matrix as its lower triangle, row by row.
type Triangle = Vec<Vec<f64>>;

/// Logarithm of the density of `seen` under a normal law with the mean and covariance of `lunches` (one list a lunch) and
/// the variances `own` added on the diagonal.
///
/// # Source
/// The synthetic likelihood of Wood, *Nature* 466 (2010) 1102-1104; from memory.
pub(super) fn log_likelihood(seen: &[f64], own: &[f64], lunches: &[Vec<f64>]) -> f64 {
    let n = lunches.len() as f64;
    let k = seen.len();
    let mean: Vec<f64> = (0..k)
        .map(|i| lunches.iter().map(|x| x[i]).sum::<f64>() / n)
        .collect();
    let mut cov: Triangle = (0..k).map(|i| vec![0.0; i + 1]).collect();
    for x in lunches {
        for i in 0..k {
            for j in 0..=i {
                cov[i][j] += (x[i] - mean[i]) * (x[j] - mean[j]) / (n - 1.0).max(1.0);
            }
        }
    }
    for i in 0..k {
        // A little more on the diagonal keeps levels that never vary apart from one another.
        cov[i][i] += own[i] + 1e-6;
    }
    let Some(root) = cholesky(cov) else {
        return f64::NEG_INFINITY;
    };
    let (mut square, mut log_det) = (0.0, 0.0);
    let mut z = vec![0.0; k];
    for i in 0..k {
        let rest: f64 = (0..i).map(|j| root[i][j] * z[j]).sum();
        z[i] = (seen[i] - mean[i] - rest) / root[i][i];
        square += z[i] * z[i];
        log_det += 2.0 * libm::log(root[i][i]);
    }
    -0.5 * (square + log_det)
}

/// Lower triangular root of a symmetric positive matrix; `None` when it is none.
fn cholesky(mut a: Triangle) -> Option<Triangle> {
    for i in 0..a.len() {
        for j in 0..=i {
            let dot: f64 = (0..j).map(|m| a[i][m] * a[j][m]).sum();
            let rest = a[i][j] - dot;
            if i == j {
                if rest <= 0.0 || !rest.is_finite() {
                    return None;
                }
                a[i][i] = rest.sqrt();
            } else {
                a[i][j] = rest / a[j][j];
            }
        }
    }
    Some(a)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_density_of_two_numbers_is_that_of_the_bivariate_normal_law() {
        // Four lunches with means 0, variances 4/3 and 4/3, covariance 4/3 r with r = 1/2 by construction below.
        let lunches = vec![
            vec![1.0, 1.0],
            vec![-1.0, -1.0],
            vec![1.0, 0.0],
            vec![-1.0, 0.0],
        ];
        let (a, b, c) = (4.0 / 3.0, 2.0 / 3.0, 2.0 / 3.0);
        let own = [0.5 - 1e-6, 0.25 - 1e-6];
        let (x, y) = (0.7, -0.4);
        // Worked out by hand: the inverse and determinant of a two by two matrix.
        let (s, t) = (a + 0.5, c + 0.25);
        let det: f64 = s * t - b * b;
        let square = (t * x * x - 2.0 * b * x * y + s * y * y) / det;
        let wanted = -0.5 * (square + libm::log(det));
        let found = log_likelihood(&[x, y], &own, &lunches);
        assert!((found - wanted).abs() < 1e-9, "{found} {wanted}");
    }
}
